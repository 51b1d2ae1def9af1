// The frame of every page: bar, what waits, the page itself.

import { session, serverAway } from './api/client';
import { Bar } from './parts/bar';
import { Unsent } from './parts/unsent';
import { BenchPage } from './pages/bench';
import { HelpPage } from './pages/help';
import { JobPage } from './pages/job';
import { LedgerPage } from './pages/ledger';
import { NewJobPage } from './pages/new_job';
import { PeoplePage } from './pages/people';
import { ShelfPage } from './pages/shelf';
import { FirstOwner, SignIn } from './pages/sign_in';
import { route } from './state/route';

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
      <Page />
    </>
  );
}

function Page() {
  const at = route.value;
  switch (at.page) {
    case 'job': return <JobPage id={at.id} room={at.room} />;
    case 'new': return <NewJobPage />;
    case 'shelf': return <ShelfPage />;
    case 'ledger': return <LedgerPage job={at.job} key={at.job ?? 0} />;
    case 'help': return <HelpPage />;
    case 'people': return <PeoplePage />;
    default: return <BenchPage />;
  }
}
