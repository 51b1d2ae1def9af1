#include "seatwright/store/backup_folder.hpp"

#include <fmt/format.h>
#include <soci/soci.h>
#include <soci/sqlite3/soci-sqlite3.h>

#include <algorithm>
#include <cstdio>
#include <filesystem>
#include <map>

#include "seatwright/store/backup.hpp"
#include "seatwright/store/dialect.hpp"
#include "seatwright/store/migrations.hpp"

namespace seatwright::store {

namespace {

namespace fs = std::filesystem;
using std::chrono::days;
using std::chrono::sys_days;
using std::chrono::year_month_day;

constexpr std::size_t days_kept = 7, weeks_kept = 4, months_kept = 12;

// The newest of each of the last `most` groups that have any.
template <class Group>
void keep_newest(const std::vector<sys_days>& all, const Group& group, std::size_t most,
                 std::set<sys_days>& kept) {
    std::map<long, sys_days> newest;
    for (const sys_days day : all) {
        const auto [at, fresh] = newest.emplace(group(day), day);
        if (!fresh) at->second = std::max(at->second, day);
    }
    std::size_t taken = 0;
    for (auto at = newest.rbegin(); at != newest.rend() && taken < most; ++at, ++taken)
        kept.insert(at->second);
}

long week_of(sys_days day) {
    constexpr int monday = 3;  // 1970-01-01 was a Thursday
    return (day.time_since_epoch().count() + monday) / 7;
}

long month_of(sys_days day) {
    const year_month_day date(day);
    return 12L * static_cast<int>(date.year()) + static_cast<long>(static_cast<unsigned>(date.month()));
}

}  // namespace

std::string iso_day(sys_days day) {
    const year_month_day date(day);
    return fmt::format("{:04}-{:02}-{:02}", static_cast<int>(date.year()),
                       static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()));
}

std::string nightly_name(sys_days day) {
    return "seatwright-" + iso_day(day) + ".db";
}

std::optional<sys_days> day_of_name(const std::string& name) {
    int year = 0;
    unsigned month = 0, day = 0;
    if (std::sscanf(name.c_str(), "seatwright-%4d-%2u-%2u.db", &year, &month, &day) != 3) return std::nullopt;
    const year_month_day date{std::chrono::year(year), std::chrono::month(month), std::chrono::day(day)};
    if (!date.ok() || nightly_name(date) != name) return std::nullopt;
    return sys_days(date);
}

std::vector<sys_days> backups_in(const std::string& folder) {
    std::vector<sys_days> out;
    std::error_code failed;
    for (const auto& one : fs::directory_iterator(folder, failed))
        if (const auto day = day_of_name(one.path().filename().string()); day && one.is_regular_file(failed))
            out.push_back(*day);
    std::sort(out.begin(), out.end());
    return out;
}

std::set<sys_days> kept_of(const std::vector<sys_days>& all) {
    std::set<sys_days> kept;
    if (all.empty()) return kept;
    const sys_days last = *std::max_element(all.begin(), all.end());
    for (const sys_days day : all)
        if (last - day < days(days_kept)) kept.insert(day);
    keep_newest(all, week_of, weeks_kept, kept);
    keep_newest(all, month_of, months_kept, kept);
    return kept;
}

int prune(const std::string& folder, sys_days today) {
    auto all = backups_in(folder);
    std::erase_if(all, [&](sys_days day) { return day > today; });
    const auto kept = kept_of(all);
    int removed = 0;
    for (const sys_days day : all) {
        std::error_code failed;
        if (!kept.contains(day) && fs::remove(fs::path(folder) / nightly_name(day), failed)) ++removed;
    }
    return removed;
}

std::optional<long long> migration_of(const std::string& file) {
    if (!fs::is_regular_file(file)) return std::nullopt;
    try {
        soci::session sql(soci::sqlite3, sqlite_dialect().connect(file));
        long long step = 0;
        sql << "select coalesce(max(step), 0) from migration", soci::into(step);
        return step;
    } catch (const soci::soci_error&) {
        return std::nullopt;
    }
}

Answer<std::string> back_up_before_migration(const std::string& folder, const std::string& to) {
    const auto step = migration_of(database_file(folder));
    if (!step || *step == 0 || *step >= newest_migration()) return std::string();
    const std::string file = (fs::path(to) / fmt::format("seatwright-before-step-{}.db", *step + 1)).string();
    if (fs::exists(file)) return std::string();  // a start that was cut short made it
    const auto made = backup(folder, file);
    if (!made) return tl::unexpected(made.error());
    return file;
}

}  // namespace seatwright::store
