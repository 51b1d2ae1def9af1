#include "server/answers/everything.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "seatwright/report/csv.hpp"
#include "seatwright/store/castings.hpp"
#include "seatwright/store/entries.hpp"
#include "seatwright/store/issues.hpp"
#include "seatwright/store/ledger.hpp"
#include "seatwright/store/orders.hpp"
#include "seatwright/store/surveys.hpp"
#include "seatwright/store/tar.hpp"
#include "server/answers/job_card.hpp"
#include "server/http/http_error.hpp"
#include "server/jobs/job_cache.hpp"

namespace seatwright::server {

namespace {

constexpr const char* readme =
    "Everything that is on record, as plain files.\n\n"
    "job-N/job.toml             the job with all its readings, as this program reads it\n"
    "job-N/as-imported.toml     the file it was made from, byte for byte\n"
    "job-N/versions/            every text it ever had; versions.csv says who changed what, when\n"
    "job-N/entries.csv          every reading, correction, choice and note, in order; values as JSON\n"
    "job-N/ledger.csv           who did what, when\n"
    "job-N/order.csv            the shop's number of it, its customer, the promised day, serial numbers\n"
    "job-N/taken/               papers and programs as they left; taken.csv says who took them, when\n"
    "job-N/photographs/         by the SHA-256 that entries name them with\n"
    "shelf/, castings/, surveys/, people.csv, ledger.csv   of a whole shop\n\n"
    "Times are UTC. Tables are comma-separated (RFC 4180), texts UTF-8.\n";

std::string row_of(const std::vector<std::string>& cells) {
    std::string row;
    for (std::size_t i = 0; i < cells.size(); ++i) row += (i == 0 ? "" : ",") + report::csv_cell(cells[i]);
    return row + "\r\n";
}

std::string number_or_none(const std::optional<long long>& number) {
    return number ? std::to_string(*number) : "";
}

// Letters that every system takes in a name.
std::string file_name_of(const std::string& name) {
    constexpr std::size_t most = 40;
    std::string out;
    for (const char c : name.substr(0, most)) {
        const bool plain = (c >= '0' && c <= '9') || (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') ||
                           c == '.' || c == '-';
        out += plain ? c : '-';
    }
    return out;
}

struct Everything {
    store::Database& database;
    const store::Photographs& photographs;
    store::Tar tar;
    JobCache cache{database};
    store::Jobs jobs{database};
    store::Orders orders{database};
    store::Issues issues{database};
};

void put_versions(Everything& all, const std::string& folder, long long job) {
    std::string table = row_of({"version", "at", "by", "what", "same as"});
    auto versions = all.jobs.versions(job);
    std::reverse(versions.begin(), versions.end());
    for (const auto& v : versions) {
        table += row_of(
            {std::to_string(v.number), store::iso_time(v.at_ms), v.by, v.what, number_or_none(v.same_as)});
        const auto whole = all.jobs.version(job, v.number);
        all.tar.add(fmt::format("{}versions/{:04}.toml", folder, v.number), whole->text, v.at_ms);
        if (whole->shop_text && v.number == 1)
            all.tar.add(folder + "versions/shop.toml", *whole->shop_text, v.at_ms);
    }
    all.tar.add(folder + "versions.csv", table, store::now_ms());
}

// The photographs they name too.
void put_entries(Everything& all, const std::string& folder, long long job) {
    std::string table = row_of({"number", "at", "by", "read_by", "kind", "head", "valve", "values", "units",
                                "corrects", "withdrawn", "repeat", "reason", "digest"});
    std::set<std::string> seen;
    const auto entries = store::Entries(all.database).list(job, 0);
    std::map<long long, long long> numbers;
    for (const auto& e : entries) numbers[e.id] = e.sequence;
    for (const auto& e : entries) {
        table += row_of({std::to_string(e.sequence), store::iso_time(e.at_ms), e.by, e.read_by_name,
                         name_of(e.kind), e.head, e.valve, e.values.dump(),
                         e.units == LengthUnit::inch ? "in" : "mm",
                         e.corrects ? std::to_string(numbers[*e.corrects]) : "", e.withdrawn ? "yes" : "",
                         e.repeat ? "yes" : "", e.reason, e.digest});
        for (const auto& value : e.values) {
            if (!value.is_string() || !store::is_photograph_name(value.get<std::string>())) continue;
            const std::string name = value;
            const auto bytes = all.photographs.get(name);
            if (bytes && seen.insert(name).second)
                all.tar.add(folder + "photographs/" + name + ".jpg", *bytes, e.at_ms);
        }
    }
    all.tar.add(folder + "entries.csv", table, store::now_ms());
}

std::string ledger_table(Everything& all, const std::optional<long long>& job) {
    std::vector<std::string> rows;
    store::LedgerQuery query{job, {}, 500};
    for (;;) {
        const auto lines = store::ledger(all.database, query);
        for (const auto& l : lines)
            rows.push_back(
                row_of({std::to_string(l.id), store::iso_time(l.at_ms), l.by, l.what, number_or_none(l.job),
                        number_or_none(l.version), number_or_none(l.entry)}));
        if (lines.empty()) break;
        query.before = lines.back().id;
    }
    std::string table = row_of({"line", "at", "by", "what", "job", "version", "entry"});
    for (auto at = rows.rbegin(); at != rows.rend(); ++at) table += *at;
    return table;
}

void put_order(Everything& all, const std::string& folder, long long job, const std::string& promised) {
    const auto order = all.orders.of(job);
    std::string table = row_of({"what", "is"});
    table += row_of({"number", order.number});
    table += row_of({"customer", order.customer});
    table += row_of({"promised", promised});
    for (const auto& [head, serial] : order.serials)
        table += row_of({"serial number of head " + head, serial});
    all.tar.add(folder + "order.csv", table, store::now_ms());
}

void put_taken(Everything& all, const std::string& folder, long long job) {
    auto issues = all.issues.of_job(job);
    std::reverse(issues.begin(), issues.end());
    std::string table = row_of({"file", "paper", "issue", "head", "at", "by", "sha256", "in place of"});
    for (const auto& i : issues) {
        const std::string file = fmt::format("{}-{}", i.id, file_name_of(i.paper.file));
        all.tar.add(folder + "taken/" + file, all.issues.bytes(i), i.at_ms);
        table += row_of({file, i.paper.file, std::to_string(i.number), i.paper.head, store::iso_time(i.at_ms),
                         i.by, i.sha256, number_or_none(i.replaces)});
    }
    all.tar.add(folder + "taken.csv", table, store::now_ms());
}

void put_job(Everything& all, const store::JobRow& row) {
    const std::string folder = fmt::format("job-{}/", row.id);
    const auto stored = all.cache.stored(row.id);
    all.tar.add(folder + "job.toml", text_of(*stored), row.changed_ms);
    if (const auto original = all.jobs.original(row.id))
        all.tar.add(folder + "as-imported.toml", *original, row.made_ms);
    put_versions(all, folder, row.id);
    put_entries(all, folder, row.id);
    all.tar.add(folder + "ledger.csv", ledger_table(all, row.id), store::now_ms());
    put_order(all, folder, row.id, promised_of(*stored).value_or(""));
    put_taken(all, folder, row.id);
}

void put_shop(Everything& all) {
    store::Shelf shelf(all.database);
    for (const auto& v : shelf.versions())
        all.tar.add(fmt::format("shelf/{:04}.toml", v.number), shelf.version(v.number)->text, v.at_ms);
    for (const auto& casting : store::Castings(all.database).rows())
        all.tar.add(fmt::format("castings/{}-{}.toml", casting.id, file_name_of(casting.name)), casting.text,
                    casting.changed_ms);
    store::Surveys surveys(all.database);
    for (const auto& survey : surveys.rows()) {
        std::string table = row_of({"number", "at", "by", "kind", "values", "corrects", "withdrawn"});
        for (const auto& e : surveys.entries(survey.id))
            table += row_of({std::to_string(e.sequence), store::iso_time(e.at_ms), e.by, e.kind,
                             e.values.dump(), number_or_none(e.corrects), e.withdrawn ? "yes" : ""});
        all.tar.add(fmt::format("surveys/{}-{}.csv", survey.id, file_name_of(survey.title)), table,
                    survey.changed_ms);
    }
    std::string people = row_of({"number", "name", "role", "active"});
    for (const auto& p : store::People(all.database, {}).all())
        people += row_of({std::to_string(p.id), p.name, name_of(p.role), p.active ? "yes" : "no"});
    all.tar.add("people.csv", people, store::now_ms());
    all.tar.add("ledger.csv", ledger_table(all, {}), store::now_ms());
}

}  // namespace

void everything(store::Database& database, const store::Photographs& photographs,
                std::optional<long long> customer, const std::function<void(std::string_view)>& out) {
    Everything all{database, photographs, store::Tar(out)};
    std::set<long long> theirs;
    if (customer) {
        const auto customers = all.orders.customers();
        if (std::none_of(customers.begin(), customers.end(),
                         [&](const auto& one) { return one.id == *customer; }))
            throw http_error(404, "there is no such customer");
        for (const long long job : all.orders.jobs_of(*customer)) theirs.insert(job);
    }
    all.tar.add("README.txt", readme, store::now_ms());
    auto rows = all.jobs.rows(true);
    std::sort(rows.begin(), rows.end(), [](const auto& a, const auto& b) { return a.id < b.id; });
    for (const auto& row : rows)
        if (!customer || theirs.count(row.id) > 0) put_job(all, row);
    if (!customer) put_shop(all);
    all.tar.end();
}

}  // namespace seatwright::server
