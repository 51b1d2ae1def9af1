// The frame of every page: bar, what waits, the page itself.

import { session, serverAway } from './api/client';
import { Bar } from './parts/bar';
import { Unsent } from './parts/unsent';
import { BenchPage } from './pages/bench';
import { JobPage } from './pages/job';
import { FirstOwner, SignIn } from './pages/sign_in';
import { later } from './parts/later';
import { route } from './state/route';
import { tour } from './state/tour';

const Tour = later(() => import('./pages/tour').then((m) => m.Tour));
const AdministrationPage = later(() => import('./pages/administration').then((m) => m.AdministrationPage));
const HelpPage = later(() => import('./pages/help').then((m) => m.HelpPage));
const LedgerPage = later<{ job?: number | undefined }>(() => import('./pages/ledger').then((m) => m.LedgerPage));
const NewJobPage = later(() => import('./pages/new_job').then((m) => m.NewJobPage));
const SurveyPage = later<{ id: number }>(() => import('./pages/survey').then((m) => m.SurveyPage));
const ScanPage = later<{ id: string }>(() => import('./pages/scan').then((m) => m.ScanPage));
const PeoplePage = later(() => import('./pages/people').then((m) => m.PeoplePage));
const ShelfPage = later(() => import('./pages/shelf').then((m) => m.ShelfPage));

export function App() {
  const who = session.value;
  if (!who) {
    return (
      <main class="page">
        <p role="status">{serverAway.value ? 'The server does not answer. This page tries again.' : 'One moment.'}</p>
      </main>
    );
  }
  if (who.first_start) return <FirstOwner />;
  if (!who.person) return <SignIn />;
  return (
    <>
      <Bar />
      <Unsent />
      {typeof tour.value === 'number' && !(route.value.page === 'job' && route.value.room === 'machine') && <Tour />}
      <Page />
    </>
  );
}

function Page() {
  const at = route.value;
  switch (at.page) {
    case 'job': return <JobPage id={at.id} room={at.room} />;
    case 'new': return <NewJobPage />;
    case 'survey': return <SurveyPage id={at.id} key={at.id} />;
    case 'scan': return <ScanPage id={at.id} key={at.id} />;
    case 'shelf': return <ShelfPage />;
    case 'ledger': return <LedgerPage job={at.job} key={at.job ?? 0} />;
    case 'help': return <HelpPage />;
    case 'people': return <PeoplePage />;
    case 'administration': return <AdministrationPage />;
    default: return <BenchPage />;
  }
}
