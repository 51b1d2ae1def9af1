// Figures no person gave, asked for behind one line; the list comes with the first of them.

import { later } from '../../parts/later';
import { madeUp } from '../../state/made_up';

const List = later(() => import('./made_up_list').then((m) => m.MadeUpList));
export const MadeUp = () => (madeUp().length > 0 ? <List /> : null);
