#include "seatwright/store/backup.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <soci/soci.h>
#include <soci/sqlite3/soci-sqlite3.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>

#include "seatwright/store/chain.hpp"
#include "seatwright/store/cut_back.hpp"
#include "seatwright/store/database.hpp"
#include "seatwright/store/issues.hpp"
#include "seatwright/store/migrations.hpp"
#include "seatwright/store/own_files.hpp"
#include "seatwright/store/part_file.hpp"
#include "seatwright/store/shop_chain.hpp"
#include "seatwright/store/text_chain.hpp"

namespace seatwright::store {

namespace {

namespace fs = std::filesystem;

// The bytes and then the folder's entry for them: after this a power cut cannot lose the file.
bool flush_to_disk(const fs::path& path) {
    const int handle = ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
    if (handle < 0) return false;
    const bool done = ::fsync(handle) == 0;
    ::close(handle);
    return done;
}

Answer<bool> put_in_place(const fs::path& part, const fs::path& target) {
    std::error_code failed;
    if (!flush_to_disk(part))
        return refuse(Why::bad, fmt::format("{} could not be flushed to the disk", part.string()));
    fs::rename(part, target, failed);
    if (failed)
        return refuse(Why::bad,
                      fmt::format("{} could not be written: {}", target.string(), failed.message()));
    const fs::path folder = target.has_parent_path() ? target.parent_path() : fs::path(".");
    flush_to_disk(folder);
    return true;
}

tl::unexpected<Refusal> of_server_tools() {
    return refuse(
        Why::bad,
        "this copies the data of a folder; a database server is copied and put back by its own tools, "
        "pg_dump and pg_restore, as the tables' owner (docs/store.md)");
}

// What a data file says of its entries' digests; nothing when it is from before they had any.
void read_chain(Sql& sql, Contents& c) {
    if (c.migration < chain_step) return;
    for (const Damage& damage : damage_in(sql)) c.damage.push_back(to_words(damage));
    if (c.migration >= text_chain_step)
        for (auto& words : damage_of_all_texts(sql)) c.damage.push_back(std::move(words));
    if (c.migration >= issue_step)
        for (const long long job : all_jobs(sql))
            if (auto words = damage_of_issues(sql, job)) c.damage.push_back(std::move(*words));
    for (auto& words : damage_of_shop_chain(sql)) c.damage.push_back(std::move(words));
    if (const auto newest = newest_shop_digest(sql)) c.record = newest->digest;
}

// The shop's digest as of now goes into the data, so that it stands in the copy. Data that may only be read,
// or are of another program, are copied as they are.
void chain_shop_of(const std::string& file) {
    try {
        Sql sql(soci::sqlite3, sqlite_dialect().connect(file));
        long long step = 0;
        sql << "select coalesce(max(step), 0) from migration", soci::into(step);
        if (step != newest_migration()) return;
        sql << sqlite_dialect().begin_write(the_shop);
        chain_shop(sql);
        sql << "commit";
    } catch (const soci::soci_error&) {
        // What is wrong with it is said by the copy.
    }
}

// A copy of all that is in `from`, what still stands in a log beside it included, as a file of its own. A
// step only SQLite knows; another database brings its own backup tools.
void copy_database(const std::string& from, const std::string& to) {
    keep_to_owner(to);
    Sql sql(soci::sqlite3, sqlite_dialect().connect(from));
    sql << "vacuum into :to", soci::use(to);
}

// The first thing that is wrong, of a report of many lines under headings in asterisks.
std::string first_fault(const std::string& report) {
    for (std::size_t at = 0; at < report.size();) {
        const auto end = std::min(report.find('\n', at), report.size());
        if (end > at && report[at] != '*') return report.substr(at, end - at);
        at = end + 1;
    }
    return report;
}

std::string integrity(Sql& sql) {
    std::string word;
    sql << "pragma integrity_check", soci::into(word);
    if (word != "ok") return first_fault(word);
    std::string table;
    soci::indicator state = soci::i_null;
    sql << "pragma foreign_key_check", soci::into(table, state);
    return sql.got_data() ? "a row of " + table + " points to nothing" : "ok";
}

long long count(Sql& sql, const std::string& table) {
    long long rows = 0;
    sql << "select count(*) from " + table, soci::into(rows);
    return rows;
}

}  // namespace

std::string to_words(const Contents& c) {
    constexpr std::size_t shown = 16;
    return fmt::format("jobs {}, versions {}, entries {}, ledger lines {}, people {}{}", c.jobs, c.versions,
                       c.entries, c.ledger_lines, c.people,
                       c.record.empty() ? "" : ", record " + c.record.substr(0, shown));
}

std::string database_file(const std::string& folder) {
    return (fs::path(folder) / "seatwright.db").string();
}

Answer<Contents> inspect(const std::string& file) {
    if (!fs::is_regular_file(file))
        return refuse(Why::not_found, fmt::format("{}: there is no such file", file));
    try {
        Sql sql(soci::sqlite3, sqlite_dialect().connect(file));
        sql << "pragma query_only = on";
        const std::string word = integrity(sql);
        if (word != "ok")
            return refuse(Why::bad,
                          fmt::format("{}: the data is damaged ({}); use another backup", file, word));
        Contents c{count(sql, "job"),
                   count(sql, "job_version"),
                   count(sql, "entry"),
                   count(sql, "ledger"),
                   count(sql, "person"),
                   count(sql, "migration"),
                   {},
                   {}};
        if (c.migration > newest_migration())
            return refuse(Why::bad, fmt::format("{}: written by a newer program; use that one", file));
        read_chain(sql, c);
        return c;
    } catch (const soci::soci_error& fault) {
        return refuse(Why::bad, fmt::format("{}: not data of this program, or damaged: {}", file,
                                            fault.get_error_message()));
    }
}

Answer<Contents> backup(const std::string& folder, const std::string& out) {
    if (is_server_url(folder)) return of_server_tools();
    const std::string from = database_file(folder);
    if (!fs::is_regular_file(from))
        return refuse(Why::not_found, fmt::format("{}: there is no data in this folder", folder));
    if (fs::exists(out))
        return refuse(Why::taken, fmt::format("{}: is there already; a backup overwrites nothing", out));
    const PartFile part(out + ".part");
    chain_shop_of(from);
    try {
        copy_database(from, part.path());
    } catch (const soci::soci_error& fault) {
        return refuse(Why::bad, fmt::format("{}: could not be written: {}", out, fault.get_error_message()));
    }
    const auto contents = inspect(part.path());
    if (!contents) return tl::unexpected(contents.error());
    if (const auto placed = put_in_place(part.path(), out); !placed) return tl::unexpected(placed.error());
    return contents;
}

namespace {

// The folder restored data goes to. One that was made for it and stays empty is removed again.
class Room {
  public:
    explicit Room(std::string folder) : folder_(std::move(folder)) {}
    ~Room() {
        std::error_code not_empty;
        if (made_) fs::remove(folder_, not_empty);
    }
    Room(const Room&) = delete;
    Room& operator=(const Room&) = delete;

    const std::string& folder() const { return folder_; }
    // Whether it can take the data; it is made.
    Answer<bool> make();

  private:
    std::string folder_;
    bool made_ = false;
};

Answer<bool> Room::make() {
    const std::string target = database_file(folder_);
    if (fs::exists(target))
        return refuse(
            Why::taken,
            fmt::format("{}: holds data already; move it away first, a restore overwrites nothing", folder_));
    if (const std::string left = left_beside(target); !left.empty())
        return refuse(
            Why::taken,
            fmt::format("{}: was left by other data and would be read into the restored one; move it "
                        "away first, a restore overwrites nothing",
                        left));
    std::error_code failed;
    made_ = fs::create_directories(folder_, failed);
    if (!failed && made_) fs::permissions(folder_, fs::perms::owner_all, failed);
    if (failed)
        return refuse(Why::bad, fmt::format("{}: could not be written: {}", folder_, failed.message()));
    return true;
}

// A copy of data that holds somebody, in `part`; what it holds.
Answer<Contents> copied(const std::string& from, Room& room, const std::string& part) {
    const auto before = inspect(from);
    if (!before) return tl::unexpected(before.error());
    if (before->people == 0)
        return refuse(
            Why::bad,
            fmt::format("{}: holds nobody's account, so it is no backup of a shop; perhaps a copy of a "
                        "file a server was working on, without the log beside it",
                        from));
    if (const auto made = room.make(); !made) return tl::unexpected(made.error());
    try {
        copy_database(from, part);
    } catch (const soci::soci_error& fault) {
        return refuse(Why::bad,
                      fmt::format("{}: could not be written: {}", room.folder(), fault.get_error_message()));
    }
    auto held = inspect(part);
    if (held && *held != *before)
        return refuse(Why::bad,
                      fmt::format("{}: changed while it was read; restore from a backup of it", from));
    return held;
}

Answer<bool> cut_copy(const std::string& part, long long until_ms) {
    try {
        Sql sql(soci::sqlite3, sqlite_dialect().connect(part));
        if (step_of(sql) != newest_migration()) migrate(sql, sqlite_dialect());
        return cut_back(sql, until_ms);
    } catch (const soci::soci_error& fault) {
        return refuse(Why::bad,
                      fmt::format("{}: could not be put back: {}", part, fault.get_error_message()));
    }
}

}  // namespace

Answer<Contents> restore(const std::string& from, const std::string& folder) {
    if (is_server_url(folder)) return of_server_tools();
    Room room(folder);
    const PartFile part(database_file(folder) + ".part");
    auto held = copied(from, room, part.path());
    if (!held) return held;
    if (const auto placed = put_in_place(part.path(), database_file(folder)); !placed)
        return tl::unexpected(placed.error());
    return held;
}

Answer<Contents> restore_until(const std::string& from, const std::string& folder, long long until_ms) {
    if (is_server_url(folder)) return of_server_tools();
    Room room(folder);
    const PartFile part(database_file(folder) + ".part");
    if (const auto held = copied(from, room, part.path()); !held) return held;
    if (const auto cut = cut_copy(part.path(), until_ms); !cut) return tl::unexpected(cut.error());
    auto held = inspect(part.path());
    if (!held) return held;
    if (const auto placed = put_in_place(part.path(), database_file(folder)); !placed)
        return tl::unexpected(placed.error());
    return held;
}

}  // namespace seatwright::store
