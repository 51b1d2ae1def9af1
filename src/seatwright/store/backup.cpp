#include "seatwright/store/backup.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <soci/soci.h>
#include <soci/sqlite3/soci-sqlite3.h>
#include <unistd.h>

#include <algorithm>
#include <filesystem>

#include "seatwright/store/database.hpp"
#include "seatwright/store/migrations.hpp"

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

// Two SQL steps only SQLite knows; another database brings its own backup tools.
void copy_database(const std::string& from, const std::string& to) {
    soci::session sql(soci::sqlite3, sqlite_dialect().connect(from));
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

std::string integrity(soci::session& sql) {
    std::string word;
    sql << "pragma integrity_check", soci::into(word);
    if (word != "ok") return first_fault(word);
    std::string table;
    soci::indicator state = soci::i_null;
    sql << "pragma foreign_key_check", soci::into(table, state);
    return sql.got_data() ? "a row of " + table + " points to nothing" : "ok";
}

long long count(soci::session& sql, const std::string& table) {
    long long rows = 0;
    sql << "select count(*) from " + table, soci::into(rows);
    return rows;
}

}  // namespace

std::string to_words(const Contents& c) {
    return fmt::format("jobs {}, versions {}, entries {}, ledger lines {}, people {}", c.jobs, c.versions,
                       c.entries, c.ledger_lines, c.people);
}

std::string database_file(const std::string& folder) {
    return (fs::path(folder) / "seatwright.db").string();
}

Answer<Contents> inspect(const std::string& file) {
    if (!fs::is_regular_file(file))
        return refuse(Why::not_found, fmt::format("{}: there is no such file", file));
    try {
        soci::session sql(soci::sqlite3, sqlite_dialect().connect(file));
        sql << "pragma query_only = on";
        const std::string word = integrity(sql);
        if (word != "ok")
            return refuse(Why::bad,
                          fmt::format("{}: the data is damaged ({}); use another backup", file, word));
        Contents c{count(sql, "job"),    count(sql, "job_version"), count(sql, "entry"),
                   count(sql, "ledger"), count(sql, "person"),      count(sql, "migration")};
        if (c.migration > newest_migration())
            return refuse(Why::bad, fmt::format("{}: written by a newer program; use that one", file));
        return c;
    } catch (const soci::soci_error& fault) {
        return refuse(Why::bad, fmt::format("{}: not data of this program, or damaged: {}", file,
                                            fault.get_error_message()));
    }
}

Answer<Contents> backup(const std::string& folder, const std::string& out) {
    const std::string from = database_file(folder);
    if (!fs::is_regular_file(from))
        return refuse(Why::not_found, fmt::format("{}: there is no data in this folder", folder));
    if (fs::exists(out))
        return refuse(Why::taken, fmt::format("{}: is there already; a backup overwrites nothing", out));
    const std::string part = out + ".part";
    std::error_code ignored;
    fs::remove(part, ignored);  // left by a run that was killed
    try {
        copy_database(from, part);
    } catch (const soci::soci_error& fault) {
        fs::remove(part, ignored);
        return refuse(Why::bad, fmt::format("{}: could not be written: {}", out, fault.get_error_message()));
    }
    const auto contents = inspect(part);
    if (!contents) return tl::unexpected(contents.error());
    if (const auto placed = put_in_place(part, out); !placed) return tl::unexpected(placed.error());
    return contents;
}

Answer<Contents> restore(const std::string& from, const std::string& folder) {
    const auto before = inspect(from);
    if (!before) return tl::unexpected(before.error());
    const std::string target = database_file(folder);
    if (fs::exists(target))
        return refuse(
            Why::taken,
            fmt::format("{}: holds data already; move it away first, a restore overwrites nothing", folder));
    std::error_code failed;
    const bool made = fs::create_directories(folder, failed);
    if (!failed && made) fs::permissions(folder, fs::perms::owner_all, failed);
    const std::string part = target + ".part";
    if (!failed) fs::copy_file(from, part, fs::copy_options::overwrite_existing, failed);
    if (failed)
        return refuse(Why::bad, fmt::format("{}: could not be written: {}", folder, failed.message()));
    if (const auto placed = put_in_place(part, target); !placed) return tl::unexpected(placed.error());
    const auto after = inspect(target);
    if (after && *after != *before)
        return refuse(Why::bad, fmt::format("{}: does not hold what the backup held", folder));
    return after;
}

}  // namespace seatwright::store
