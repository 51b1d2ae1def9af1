// Data of a shop nobody is at: opened again and again, and changed behind the program's back meanwhile, as
// disks, copies and mistakes change them. A file in a folder of its own, or, where SEATWRIGHT_TEST_DATABASE
// says postgresql, a database of the test program's own server.
#pragma once

#include <soci/sqlite3/soci-sqlite3.h>

#include <filesystem>
#include <optional>
#include <string>

#include "damage.hpp"
#include "folder.hpp"
#include "older_copy.hpp"
#include "seatwright/store/backup.hpp"
#include "seatwright/store/database.hpp"
#include "seatwright/store/last_digests.hpp"

namespace seatwright::store {

// Opened again and again by one: on a server each connection takes a moment.
inline const DatabaseOptions few{.connections = 2};

class ClosedData {
  public:
    // Of a folder: what the service has there.
    std::string data() const { return on_server() ? url() : folder_.path(); }
    // As Database takes it.
    std::string place() const { return on_server() ? url() : database_file(folder_.path()); }
    std::string file(const std::string& name) const { return folder_.file(name); }

    // Past the program's own rules; on a server past triggers and references, too.
    void bare(const std::string& statement) const {
        if (on_server()) return Cluster::shared().run_bare(name_, statement);
        Sql sql(soci::sqlite3, sqlite_dialect().connect(place()));
        sql << statement;
    }
    // From now on bare() may change rows of that table, and take them out.
    void unlock(const std::string& table) const {
        if (on_server()) return;
        for (const std::string verb : {"update", "delete"})
            bare("drop trigger if exists " + table + "_no_" + verb);
    }
    // Every text that is stored with `from` in it gets `to` there, of the same length; how many there were.
    int change(const std::string& from, const std::string& to) const {
        if (!on_server()) return change_in_file(place(), from, to);
        return Cluster::shared().change(name_, from, to);
    }

    // Where the last digests are noted.
    std::string last_file() const {
        return on_server() ? LastDigests::file_of_server(place(), the_shop)
                           : LastDigests::file_beside(place());
    }

    // The data as they are now, to stand in their own place later; where the copy is, as Database takes it.
    std::string copied() {
        if (on_server()) return older_.emplace(Cluster::shared(), name_).place();
        const std::string copy = database_file(file("older"));
        std::filesystem::create_directories(file("older"));
        std::filesystem::copy_file(place(), copy);
        return copy;
    }
    void put_copy_in_place() {
        if (on_server()) return older_->put_in_place();
        std::filesystem::copy_file(database_file(file("older")), place(),
                                   std::filesystem::copy_options::overwrite_existing);
    }

  private:
    std::string url() const { return Cluster::shared().url(name_); }

    TestFolder folder_;
    // Of a database server the last digests are noted in the folder the service has.
    std::optional<StateFolder> state_ =
        on_server() ? std::optional<StateFolder>(std::in_place) : std::nullopt;
    std::string name_ = on_server() ? Cluster::shared().new_database() : "";
    std::optional<OlderCopy> older_;
};

}  // namespace seatwright::store
