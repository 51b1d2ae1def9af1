#include "server/answers/administration.hpp"

#include <fmt/format.h>
#include <unistd.h>

#include <filesystem>
#include <fstream>
#include <optional>

#include "seatwright/base/version.hpp"
#include "seatwright/store/backup_folder.hpp"
#include "seatwright/store/server_address.hpp"
#include "seatwright/words/in_words.hpp"
#include "server/answers/store_json.hpp"

namespace seatwright::server {

namespace {

namespace fs = std::filesystem;

struct Sizes {
    double data = 0, photographs = 0, free = 0;  // bytes
};

// None of a database server: its disks are not here.
std::optional<Sizes> sizes_of(const std::string& file) {
    if (store::is_server_url(file)) return std::nullopt;
    Sizes out;
    std::error_code failed;
    for (const char* end : {"", "-wal"}) {
        const auto size = fs::file_size(file + end, failed);
        if (!failed) out.data += static_cast<double>(size);
    }
    const fs::path folder = fs::path(file).parent_path();
    for (const auto& one : fs::directory_iterator(store::photographs_folder(folder.string()), failed)) {
        const auto size = one.file_size(failed);
        if (!failed) out.photographs += static_cast<double>(size);
    }
    const auto space = fs::space(folder, failed);
    if (!failed) out.free = static_cast<double>(space.available);
    return out;
}

struct HeldRecords {
    long long jobs = 0, entries = 0, people = 0;
};

HeldRecords held_by(Workbench& bench) {
    return bench.database.read([](store::Sql& sql) {
        HeldRecords out;
        sql << "select count(*) from job", soci::into(out.jobs);
        sql << "select count(*) from entry", soci::into(out.entries);
        sql << "select count(*) from person", soci::into(out.people);
        return out;
    });
}

Json backups_json(Workbench& bench) {
    const auto now = bench.nightly.standing();
    return {{"folder", now.folder.empty() ? Json(nullptr) : Json(now.folder)},
            {"newest", now.newest ? Json(store::iso_day(*now.newest)) : Json(nullptr)},
            {"count", now.count},
            {"same_disk", now.same_disk},
            {"failed", now.failed.empty() ? Json(nullptr) : Json(in_words(now.failed, {}))}};
}

// Who has used the workbench in the last quarter of an hour, and on how many screens (a login each).
Json on_json(Workbench& bench) {
    constexpr long long lately_ms = 15LL * 60 * 1000;
    const long long since = store::now_ms() - lately_ms;
    Json list = Json::array();
    for (const auto& person : bench.people.all()) {
        long long screens = 0;
        for (const auto& login : bench.people.open_logins(person.id))
            screens += login.used_ms >= since ? 1 : 0;
        if (screens > 0) list.push_back({{"name", person.name}, {"screens", screens}});
    }
    return list;
}

// Lines of the last day that tell of a refusal or a wait.
Json refused_json(Workbench& bench) {
    constexpr long long day_ms = 24LL * 3600 * 1000, most = 200;
    const long long since = store::now_ms() - day_ms;
    long long refused = 0, waited = 0;
    for (const auto& line : bench.logins.lines(std::nullopt, most)) {
        if (line.at_ms < since) break;
        refused += line.what.starts_with("refused") ? 1 : 0;
        waited += line.what.starts_with("must wait") ? 1 : 0;
    }
    return {{"refused", refused}, {"made_to_wait", waited}};
}

double resident_memory() {
    std::ifstream file("/proc/self/statm");
    double all = 0, resident = 0;
    file >> all >> resident;
    return resident * static_cast<double>(::sysconf(_SC_PAGESIZE));
}

double processor_seconds() {
    return static_cast<double>(std::clock()) / CLOCKS_PER_SEC;
}

void add_metric(std::string& out, const char* name, const char* help, const char* type, double value) {
    out += fmt::format("# HELP {0} {1}\n# TYPE {0} {2}\n{0} {3:.15g}\n", name, help, type, value);
}

std::string metrics_text(Workbench& bench) {
    std::string out = bench.counters.text();
    const HeldRecords held = held_by(bench);
    const std::optional<Sizes> sizes = sizes_of(bench.database.place());
    const auto backups = bench.nightly.standing();
    out += fmt::format(
        "# HELP seatwright_build_info The program's version.\n# TYPE seatwright_build_info gauge\n"
        "seatwright_build_info{{version=\"{}\"}} 1\n",
        version);
    add_metric(out, "seatwright_jobs", "Jobs on record.", "gauge", static_cast<double>(held.jobs));
    add_metric(out, "seatwright_entries", "Entries on record.", "gauge", static_cast<double>(held.entries));
    add_metric(out, "seatwright_pages_open", "Pages that listen.", "gauge",
               static_cast<double>(bench.events.listeners().size()));
    add_metric(out, "seatwright_damaged", "Things found not to be as they were stored.", "gauge",
               static_cast<double>(bench.record.damage().size()));
    if (sizes) {
        add_metric(out, "seatwright_data_bytes", "The data file and its log.", "gauge", sizes->data);
        add_metric(out, "seatwright_disk_free_bytes", "Room left where the data are.", "gauge", sizes->free);
    }
    if (backups.newest)
        add_metric(out, "seatwright_backup_timestamp_seconds",
                   "Midnight (UTC) of the newest nightly backup's day.", "gauge",
                   static_cast<double>(std::chrono::sys_seconds(*backups.newest).time_since_epoch().count()));
    add_metric(out, "seatwright_backup_failed", "1 when the last try at a backup failed.", "gauge",
               backups.failed.empty() ? 0 : 1);
    add_metric(out, "process_resident_memory_bytes", "Memory held.", "gauge", resident_memory());
    add_metric(out, "process_cpu_seconds_total", "Processor time used.", "counter", processor_seconds());
    return out;
}

}  // namespace

void check_health(Workbench& bench) {
    bench.database.read([](store::Sql& sql) {
        long long step = 0;
        sql << "select max(step) from migration", soci::into(step);
    });
}

Json administration_json(Workbench& bench) {
    const HeldRecords held = held_by(bench);
    const std::optional<Sizes> sizes = sizes_of(bench.database.place());
    return {{"version", version},
            {"data",
             {{"jobs", held.jobs},
              {"entries", held.entries},
              {"people", held.people},
              {"bytes", sizes ? Json(sizes->data) : Json()},
              {"photographs_bytes", sizes ? Json(sizes->photographs) : Json()},
              {"free_bytes", sizes ? Json(sizes->free) : Json()},
              {"checked", bench.record.through()},
              {"damage", bench.record.damage()},
              {"acknowledged", acknowledged(bench)}}},
            {"backups", backups_json(bench)},
            {"on", on_json(bench)},
            {"logins", refused_json(bench)}};
}

OpenPages::Pages metrics_pages(Workbench& bench) {
    return {{"/metrics", [&bench] {
                 Response response;
                 try {
                     response.set_content(metrics_text(bench), "text/plain; version=0.0.4; charset=utf-8");
                 } catch (const std::exception&) {
                     refuse(response, http_error(503, "the data cannot be read"));
                 }
                 return response;
             }}};
}

}  // namespace seatwright::server
