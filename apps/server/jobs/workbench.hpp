// Everything the routes stand on.
#pragma once

#include <mutex>
#include <string>

#include "seatwright/store/backup.hpp"
#include "seatwright/store/entries.hpp"
#include "seatwright/store/issues.hpp"
#include "seatwright/store/jobs.hpp"
#include "seatwright/store/ledger.hpp"
#include "seatwright/store/login_log.hpp"
#include "seatwright/store/open_limits.hpp"
#include "seatwright/store/orders.hpp"
#include "seatwright/store/people.hpp"
#include "seatwright/store/photographs.hpp"
#include "seatwright/store/places.hpp"
#include "seatwright/store/screens.hpp"
#include "seatwright/store/second_factor.hpp"
#include "seatwright/store/shelf.hpp"
#include "seatwright/store/taken.hpp"
#include "server/http/access.hpp"
#include "server/http/counters.hpp"
#include "server/http/event_stream.hpp"
#include "server/http/throttle.hpp"
#include "server/jobs/busy.hpp"
#include "server/jobs/in_turn.hpp"
#include "server/jobs/job_cache.hpp"
#include "server/jobs/nightly_backup.hpp"
#include "server/jobs/questions.hpp"
#include "server/jobs/recompute.hpp"
#include "server/jobs/record_watch.hpp"
#include "server/jobs/tasks.hpp"

namespace seatwright::server {

struct WorkbenchOptions {
    std::string data;  // folder, there already, or the URL of a database server
    long long shop = store::the_shop;
    store::PasswordCost password_cost;
    AccessRules access;
    std::string backups;  // folder for nightly backups; empty: none are made
    Sentence warning;     // shown to everybody: "passwords cross this network unencrypted"
    std::size_t most_subscribers = 256;
};

struct Workbench {
    explicit Workbench(const WorkbenchOptions& options)
        : folder(options.data),
          database(store::is_server_url(options.data) ? options.data : store::database_file(options.data),
                   {.shop = options.shop}),
          people(database, options.password_cost),
          screens(database, options.password_cost),
          access(people, options.access),
          nightly(cache, options.data, options.backups),
          photographs(database.dialect().is_server
                          ? store::Photographs(database)
                          : store::Photographs(store::photographs_folder(options.data))),
          events(options.most_subscribers),
          warning(options.warning) {}

    std::string folder;  // of the data
    store::Database database;
    store::People people;
    store::Screens screens;
    store::SecondFactor second{database};
    store::LoginLog logins{database};
    store::Jobs jobs{database};
    store::Entries entries{database};
    store::Shelf shelf{database};
    store::Taken taken{database};
    store::Issues issues{database};
    store::Orders orders{database};
    store::Places places{database};
    Busy sending;  // places something is being sent to
    store::OpenLimits open_limits{database};
    Access access;
    JobCache cache{database};
    NightlyBackup nightly;
    store::Photographs photographs;
    EventStream events;
    Counters counters;
    Throttle throttle;
    Questions questions;
    // Held while a password is checked: each check takes 64 MiB, and the next guess waits until this one has
    // been counted.
    std::mutex checking_password;
    Sentence warning;
    // Last: stopped before what they work on goes.
    Tasks tasks;
    Recompute recompute;
    InTurn teaching;  // castings, by jobs whose heads are finished
    RecordWatch record{database};

    // Tells the job's page and the Bench.
    void publish(long long job, const std::string& event, const Json& data) {
        recompute.changed(job);
        teaching.add(job);
        events.publish(job, event, data.dump());
        events.publish(0, "job", Json{{"job", job}}.dump());
    }
    // Called where a login may have ended: its pages hear no more.
    void end_streams_logged_out() {
        events.end_logged_out([this](const std::string& token) { return people.still_in(token); });
    }
};

}  // namespace seatwright::server
