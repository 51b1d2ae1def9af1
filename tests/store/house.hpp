// A small invented shop in a database of its own: an owner, a job, and shorthand for entries. A file, or,
// where SEATWRIGHT_TEST_DATABASE says postgresql, a database of the test program's own server.
#pragma once

#include <atomic>

#include "cluster.hpp"
#include "folder.hpp"
#include "seatwright/store/backup.hpp"
#include "seatwright/store/entries.hpp"
#include "seatwright/store/jobs.hpp"
#include "seatwright/store/ledger.hpp"
#include "seatwright/store/live.hpp"
#include "seatwright/store/merge.hpp"
#include "seatwright/store/people.hpp"
#include "seatwright/store/shelf.hpp"

namespace seatwright::store {

// libsodium's least cost: the tests check the rules, not the price.
inline constexpr PasswordCost cheap{1, 8192};
inline const std::string good_password = "a few plain words";

struct TestHouse {
    TestFolder folder;
    std::string server_database = on_server() ? Cluster::shared().new_database() : "";
    std::string place = on_server() ? Cluster::shared().url(server_database) : database_file(folder.path());
    Database database{place, {.connections = on_server() ? 3u : 8u}};
    People people{database, cheap};
    Jobs jobs{database};
    Entries entries{database};
    Shelf shelf{database};
    Person owner = *people.make_owner("Pat", good_password);

    long long new_job(const std::string& text = "title = \"t\"\n") {
        NewJob job;
        job.text = text;
        job.what = "made for the test";
        return jobs.make(owner, job)->id;
    }
    // A table of the test's own.
    void make_table(const std::string& name, const std::string& columns) {
        const std::string statement = "create table " + name + " (" + columns + ")";
        if (!on_server()) return database.write([&](Sql& sql) { sql << statement; });
        Cluster::shared().run(server_database, statement);
        Cluster::shared().run(server_database, "grant all on " + name + " to shop_server");
    }
};

inline NewEntry touch(const std::string& key, const std::string& valve, double x, double y) {
    NewEntry e;
    e.client_key = key;
    e.valve = valve;
    e.values = {{"x", x}, {"y", y}};
    return e;
}

}  // namespace seatwright::store
