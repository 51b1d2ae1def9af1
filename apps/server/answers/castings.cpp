#include "server/answers/castings.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>
#include <spdlog/spdlog.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <type_traits>
#include <utility>

#include "seatwright/casting/casting.hpp"
#include "seatwright/job/casting.hpp"
#include "seatwright/job/reader.hpp"
#include "seatwright/job/text.hpp"
#include "seatwright/job/writer.hpp"
#include "seatwright/plan/run.hpp"
#include "seatwright/words/in_words.hpp"
#include "server/jobs/on_the_shelf.hpp"

namespace seatwright::server {

namespace {

using store::CastingRow;
using store::Castings;

std::string new_job_text(const CastingRow& row) {
    const auto units = job::units_of(job::read_text(row.text));
    return fmt::format("title = {}\nunits = \"{}\"\nshop = \"shelf\"\ncasting = {}\n",
                       job::toml_string(row.name), units == LengthUnit::inch ? "in" : "mm",
                       job::toml_string(row.name));
}

// For looking at: on the first machine and fixture there are.
Checked<job::Job> as_job(const CastingRow& row, const std::string& shop) {
    std::string text = new_job_text(row);
    for (const char* table : {"machine", "fixture"})
        if (const auto names = names_on(shop, table); !names.empty())
            text += fmt::format("{} = {}\n", table, job::toml_string(names.front()));
    return job::read_job(text, row.name,
                         [&](const std::string& path) { return path == row.name ? row.text : shop; });
}

// Only heads of which every seat was measured teach.
void keep_finished(job::Job& job) {
    std::map<std::string, std::set<std::string>> measured;
    for (const auto& proof : job.readings.proofs) measured[proof.head].insert(proof.valve);
    const auto open = [&](const auto& reading) {
        return measured[reading.head].size() < job.head.valves.size();
    };
    const auto keep = [&](auto& list) {
        std::remove_reference_t<decltype(list)> kept;
        for (const auto& reading : std::as_const(list))
            if (!open(reading)) kept.push_back(reading);
        list = std::move(kept);
    };
    keep(job.readings.touches);
    keep(job.readings.seats);
    keep(job.readings.proofs);
}

// Heads of it that do not belong, as find says them.
std::string strangers(plan::Run& run, LengthUnit units) {
    if (!run.missing(job::Stage::find).empty()) return {};
    std::vector<std::string> words;
    for (const auto& w : run.find().warnings)
        if (w.code == "foreign-head") words.push_back(in_words(w.text, {units}));
    return fmt::format("{}", fmt::join(words, " "));
}

struct Taught {
    casting::Exported text;
    std::string words;
};

std::optional<Taught> taught(const StoredJob& stored, const std::string& casting_text) {
    auto job = job_of(stored);
    if (!job) return std::nullopt;
    keep_finished(*job);
    const auto units = job->units;
    plan::Run run(std::make_shared<const job::Job>(std::move(*job)), {});
    if (!run.missing(job::Stage::hold).empty()) return std::nullopt;
    auto out = casting::exported(run, {stored.version.text, casting_text, "casting"});
    if (!out) return std::nullopt;
    return Taught{std::move(*out), strangers(run, units)};
}

void catch_up_with(Workbench& bench, const CastingRow& row, const StoredJob& stored) {
    Castings castings(bench.database);
    store::TaughtBy state{stored.row.id, stored.row.version, stored.row.sequence, {}};
    if (const auto found = taught(stored, row.text)) {
        state.words = found->words;
        const auto& t = found->text;
        if (t.description != t.as_known) castings.offer(row.id, stored.row.id, t.description);
        const std::string next = t.records + "\n" + t.as_known;
        if (t.heads + t.seats + t.depths > 0 && next != row.text)
            castings.change({}, row.id, row.version, next, fmt::format("taught by job {}", stored.row.id));
    }
    castings.note_taught(row.id, state);
}

// From one cylinder to the next, by their valves' mean places.
Json spacing_of(const job::Head& head) {
    std::map<int, std::pair<double, int>> cylinders;
    for (const auto& v : head.valves) {
        cylinders[v.cylinder].first += v.seat.x();
        ++cylinders[v.cylinder].second;
    }
    if (cylinders.size() < 2) return nullptr;
    const auto at = [](const auto& c) { return c.second.first / c.second.second; };
    const double span = at(*cylinders.rbegin()) - at(*cylinders.begin());
    return std::round(100 * span / static_cast<double>(cylinders.size() - 1)) / 100;
}

std::string name_in(const std::string& text) {
    return job::read_text(text).root().find("casting").find("name").text().value_or("");
}

}  // namespace

void catch_up(Workbench& bench) {
    Castings castings(bench.database);
    for (const auto& job : castings.jobs_that_may_name_one()) {
        // Only then are the job and all its readings taken out of the store.
        const auto name = job::read_text(job.text).root().find("casting").text();
        const auto row = name ? castings.named(*name) : std::nullopt;
        if (!row) continue;
        try {
            const auto stored = bench.cache.stored(job.id);
            const auto before = castings.taught_by(row->id);
            const bool known = std::any_of(before.begin(), before.end(), [&](const auto& t) {
                return t.job == job.id && t.version == stored->row.version &&
                       t.sequence == stored->row.sequence;
            });
            if (!known) catch_up_with(bench, *row, *stored);
        } catch (const std::exception& fault) {
            spdlog::error("casting {} learns nothing of job {}: {}", row->name, job.id, fault.what());
        }
    }
}

Json casting_json(Workbench& bench, const CastingRow& row) {
    Castings castings(bench.database);
    Json json{{"id", row.id},
              {"name", row.name},
              {"version", row.version},
              {"changed_by", row.changed_by},
              {"changed_at", store::iso_time(row.changed_ms)},
              {"what", row.what}};
    const auto document = job::read_text(row.text);
    const auto about = document.root().find("casting");
    json["number"] = about.find("number").text().value_or("");
    json["notes"] = about.find("notes").text().value_or("");
    std::set<std::pair<std::string, std::string>> heads;
    for (const auto& p : about.find("past").items())
        heads.insert({p.find("from").text().value_or(""), p.find("head").text().value_or("")});
    json["heads"] = heads.size();
    json["depths"] = about.find("depth").kind() == toml::Kind::list ? about.find("depth").size() : 0;
    const auto job = as_job(row, bench.shelf.current().text);
    json["valves"] = job ? job->head.valves.size() : 0;
    json["spacing_mm"] = job ? spacing_of(job->head) : Json(nullptr);
    json["fault"] = job ? Json(nullptr) : Json(job.error().front().text);
    Json strangers = Json::array(), offers = Json::array();
    for (const auto& t : castings.taught_by(row.id))
        if (!t.words.empty()) strangers.push_back({{"job", t.job}, {"words", t.words}});
    for (const auto& o : castings.offers(row.id))
        offers.push_back(
            {{"id", o.id}, {"job", o.job}, {"at", store::iso_time(o.made_ms)}, {"text", o.description}});
    json["strangers"] = std::move(strangers);
    json["offers"] = std::move(offers);
    return json;
}

CastingRow casting_of_job(Workbench& bench, const store::Person& by, long long job) {
    const auto stored = bench.cache.stored(job);
    const auto found = taught(*stored, {});
    if (!found) throw http_error(422, "the job's head cannot be held yet: its casting has no description");
    return take(Castings(bench.database)
                    .make(by, found->text.name, found->text.text, fmt::format("made from job {}", job)));
}

CastingRow imported_casting(Workbench& bench, const store::Person& by, const std::string& text) {
    if (text.size() > job::max_file_bytes) throw http_error(413, "a casting's file has at most 16 MiB");
    const auto read = job::read_casting(text, "casting");
    if (!read) {
        HttpError stopped =
            http_error(400, "the casting's file cannot be read: " + to_line(read.error().front()));
        stopped.body["faults"] = json_of(read.error());
        throw stopped;
    }
    const std::string name = name_in(text);
    if (name.empty()) throw http_error(400, "casting.name is missing: what is the casting called?");
    const CastingRow row{0, name, 1, 0, {}, {}, text};
    if (const auto job = as_job(row, bench.shelf.current().text); !job) {
        HttpError stopped = http_error(400, "no job can be made of it: " + to_line(job.error().front()));
        stopped.body["faults"] = json_of(job.error());
        throw stopped;
    }
    return take(Castings(bench.database).make(by, name, text, "taken in from a file"));
}

CastingRow decided(Workbench& bench, const store::Person& by, const CastingRow& row, long long offer,
                   bool accepted) {
    Castings castings(bench.database);
    const auto open = castings.offers(row.id);
    const auto at = std::find_if(open.begin(), open.end(), [&](const auto& o) { return o.id == offer; });
    if (at == open.end()) throw http_error(404, "there is no such offer, or it was decided before");
    if (accepted) {
        // Worked out anew, so that what was learned meanwhile stays.
        const auto found = taught(*bench.cache.stored(at->job), row.text);
        if (!found) throw http_error(422, fmt::format("job {} cannot be worked out any more", at->job));
        const std::string text = found->text.records + "\n" + found->text.description;
        take(castings.change(by, row.id, row.version, text,
                             fmt::format("accepted what job {} says of it", at->job)));
    }
    castings.decide(by, offer, accepted);
    return *castings.row(row.id);
}

std::string job_of_casting(Workbench& bench, const CastingRow& row) {
    const std::string shop = bench.shelf.current().text;
    return take(on_the_shelf(new_job_text(row), shop, {}, [&](const std::string& path) {
        return path == row.name ? std::optional(row.text) : std::nullopt;
    }));
}

}  // namespace seatwright::server
