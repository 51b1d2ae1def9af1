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

#include "seatwright/base/numerics/median.hpp"
#include "seatwright/casting/casting.hpp"
#include "seatwright/job/casting.hpp"
#include "seatwright/job/editor.hpp"
#include "seatwright/job/key_names.hpp"
#include "seatwright/job/reader.hpp"
#include "seatwright/job/text.hpp"
#include "seatwright/job/writer.hpp"
#include "seatwright/plan/run.hpp"
#include "server/jobs/casting_text.hpp"
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

// Of which every seat was measured.
std::set<std::string> finished_heads(const job::Job& job) {
    std::map<std::string, std::set<std::string>> measured;
    for (const auto& proof : job.readings.proofs) measured[proof.head].insert(proof.valve);
    std::set<std::string> out;
    for (const auto& [head, valves] : measured)
        if (valves.size() >= job.head.valves.size()) out.insert(head);
    return out;
}

// Only finished heads teach.
void keep_only(job::Job& job, const std::set<std::string>& finished) {
    const auto keep = [&](auto& list) {
        std::remove_reference_t<decltype(list)> kept;
        for (const auto& reading : std::as_const(list))
            if (finished.contains(reading.head)) kept.push_back(reading);
        list = std::move(kept);
    };
    keep(job.readings.touches);
    keep(job.readings.seats);
    keep(job.readings.proofs);
}

// From the first entry of a head to its last. A longer gap is a pause, and what came in at once (a file)
// tells nothing.
std::vector<casting::HeadTime> times_of(const StoredJob& stored, const std::set<std::string>& finished) {
    constexpr long long pause_ms = 30 * 60 * 1000;
    constexpr double least_s = 60;
    std::map<std::string, std::vector<long long>> at;
    for (const auto& e : stored.entries)
        if (e.kind != store::EntryKind::note && finished.contains(e.head))
            at[e.head].push_back(e.said_ms.value_or(e.at_ms));
    std::vector<casting::HeadTime> out;
    for (auto& [head, all] : at) {
        std::sort(all.begin(), all.end());
        long long sum = 0;
        for (std::size_t i = 1; i < all.size(); ++i)
            if (const long long gap = all[i] - all[i - 1]; gap <= pause_ms) sum += gap;
        const double seconds = static_cast<double>(sum) / 1000;
        if (seconds >= least_s) out.push_back({head, seconds});
    }
    return out;
}

// Heads of it that do not belong, as find says them.
std::string strangers(plan::Run& run, LengthUnit units) {
    if (!run.missing(job::Stage::find).empty()) return {};
    std::vector<std::string> words;
    for (const auto& w : run.find().warnings)
        if (w.code == "foreign-head") words.push_back(in_words(w.text, job::on_page(units)));
    return fmt::format("{}", fmt::join(words, " "));
}

// Under the name the casting's records give it.
void own_name(job::Job& job, long long id) {
    const std::string name = known_as(job.title, id);
    for (auto& past : job.find.past) {
        if (past.from == job.title)
            past.from = name;
        else if (past.from == another_called(job.title))
            past.from = job.title;
    }
    job.title = name;
}

struct Taught {
    casting::Exported text;
    std::string words;
    bool finished = false;  // a head of it is
};

std::optional<Taught> taught(const StoredJob& stored, const std::string& casting_text) {
    auto job = job_of(stored);
    if (!job) return std::nullopt;
    own_name(*job, stored.row.id);
    const auto finished = finished_heads(*job);
    // Pilots, cutters and speeds are those of the whole job's plan.
    plan::Run planned(std::make_shared<const job::Job>(*job), {});
    keep_only(*job, finished);
    const auto units = job->units;
    plan::Run run(std::make_shared<const job::Job>(std::move(*job)), {});
    if (!run.missing(job::Stage::hold).empty()) return std::nullopt;
    auto out = casting::exported(
        run, {stored.version.text, casting_text, "casting", times_of(stored, finished)}, &planned);
    if (!out) return std::nullopt;
    return Taught{std::move(*out), strangers(run, units), !finished.empty()};
}

// Whether anything came since that changes what its finished heads teach.
bool teaches_anew(const StoredJob& stored, const store::TaughtBy& before) {
    if (before.version != stored.row.version) return true;
    if (!stored.job.job) return false;
    const auto finished = finished_heads(*stored.job.job);
    return std::any_of(stored.entries.begin(), stored.entries.end(), [&](const auto& e) {
        return e.sequence > before.sequence && e.kind != store::EntryKind::note &&
               (finished.contains(e.head) || (e.kind == store::EntryKind::proof && e.corrects));
    });
}

void catch_up_with(Workbench& bench, const CastingRow& row, const StoredJob& stored) {
    Castings castings(bench.database);
    store::TaughtBy state{stored.row.id, stored.row.version, stored.row.sequence, {}};
    if (const auto found = taught(stored, row.text)) {
        state.words = found->words;
        const auto& t = found->text;
        if (t.description != t.as_known) castings.offer(row.id, stored.row.id, t.description);
        const std::string next = t.records + "\n" + t.as_known;
        if (found->finished && next != row.text)
            take(castings.change({}, row.id, row.version, next,
                                 fmt::format("taught by job {}", stored.row.id)));
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

Json notes_json(const toml::Value& about) {
    Json all = Json::array();
    for (const auto& plain : about.find("notes").items())
        all.push_back(
            {{"words", plain.text().value_or("")}, {"by", ""}, {"at", ""}, {"photograph", nullptr}});
    for (const auto& note : about.find("note").items()) {
        const auto word = [&](const char* key) { return note.find(key).text().value_or(""); };
        const auto photograph = note.find("photograph").text();
        all.push_back({{"words", word("words")},
                       {"by", word("by")},
                       {"at", word("at")},
                       {"photograph", photograph ? Json(*photograph) : Json(nullptr)}});
    }
    return all;
}

// What worked, how deep seats were cut, how long heads took.
void known_json(Json& json, const CastingRow& row) {
    Json worked = Json::array();
    std::vector<double> depths, minutes;
    if (const auto read = job::read_casting(row.text, "casting"))
        if (const auto* about = read->root.table_of("casting")) {
            for (const auto* w : about->tables_of("worked")) {
                const auto word = [&](const char* key) {
                    const auto text = w->text_of(key);
                    return text ? Json(*text) : Json(nullptr);
                };
                const auto number = [&](const char* key) {
                    const auto value = w->number_of(key);
                    return value ? Json(std::round(*value * 1e4) / 1e4) : Json(nullptr);
                };
                worked.push_back({{"kind", word("kind")},
                                  {"seats", number("seats")},
                                  {"pilot", word("pilot")},
                                  {"cutter", word("cutter")},
                                  {"rpm", number("rpm")},
                                  {"feed_mm", number("feed")},
                                  {"from", word("from")}});
            }
            for (const auto* d : about->tables_of("depth"))
                depths.push_back(d->number_of("depth").value_or(0));
            for (const auto* t : about->tables_of("time"))
                minutes.push_back(t->number_of("seconds").value_or(0) / 60);
        }
    json["worked"] = std::move(worked);
    json["depths"] = depths.size();
    json["depth_mm"] =
        depths.empty() ? Json(nullptr) : Json(std::round(1e3 * numerics::middle_one(depths)) / 1e3);
    json["deepest_mm"] = depths.empty()
                             ? Json(nullptr)
                             : Json(std::round(1e3 * *std::max_element(depths.begin(), depths.end())) / 1e3);
    json["times"] = minutes.size();
    json["minutes_head"] =
        minutes.empty() ? Json(nullptr) : Json(std::round(10 * numerics::middle_one(minutes)) / 10);
}

std::string edited(job::Edited next) {
    if (!next) throw http_error(422, "the casting's text cannot be changed: " + next.error());
    return std::move(*next);
}

// The jpegs of a text's notes go where photographs are kept; its notes name them.
std::string photographs_kept(Workbench& bench, std::string text) {
    const auto document = job::read_text(text);
    std::size_t index = 0;
    for (const auto& note : document.root().find("casting").find("note").items()) {
        const std::string at = fmt::format("casting.note[{}].", index++);
        const auto jpeg = note.find("jpeg").text();
        if (!jpeg) continue;
        const auto bytes = store::bytes_of_base64(*jpeg);
        if (!bytes) throw http_error(400, at + "jpeg is a photograph in base64 (RFC 4648)");
        const auto name = bench.photographs.put(*bytes);
        if (!name) throw http_error(name.error());
        text = edited(job::set_value(text, at + "photograph", job::toml_string(*name)));
        text = edited(job::remove_value(text, at + "jpeg"));
    }
    return text;
}

std::string name_in(const std::string& text) {
    return job::read_text(text).root().find("casting").find("name").text().value_or("");
}

}  // namespace

void teach_casting(Workbench& bench, long long job) {
    const auto stored = bench.cache.stored(job);
    const auto name = stored->read->text.root().find("casting").text();
    Castings castings(bench.database);
    const auto row = name ? castings.named(*name) : std::nullopt;
    if (!row) return;
    const auto before = castings.taught_by(row->id);
    const auto at = std::find_if(before.begin(), before.end(), [&](const auto& t) { return t.job == job; });
    if (at != before.end() && !teaches_anew(*stored, *at)) return;
    catch_up_with(bench, *row, *stored);
    bench.events.publish(0, "castings", "{}");
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
    json["source"] = about.find("source").text().value_or("");
    std::set<std::pair<std::string, std::string>> heads;
    for (const auto& p : about.find("past").items())
        heads.insert({p.find("from").text().value_or(""), p.find("head").text().value_or("")});
    json["heads"] = heads.size();
    json["notes"] = notes_json(about);
    known_json(json, row);
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

std::string casting_file(Workbench& bench, const CastingRow& row) {
    std::string text = row.text;
    const auto document = job::read_text(row.text);
    std::size_t index = 0;
    for (const auto& note : document.root().find("casting").find("note").items()) {
        const std::string at = fmt::format("casting.note[{}].jpeg", index++);
        const auto name = note.find("photograph").text();
        const auto bytes =
            name && store::is_photograph_name(*name) ? bench.photographs.get(*name) : std::nullopt;
        if (bytes) text = edited(job::set_value(text, at, job::toml_string(store::base64_of(*bytes))));
    }
    return text;
}

CastingRow noted(Workbench& bench, const store::Person& by, const CastingRow& row, const CastingNote& note) {
    constexpr std::size_t longest = 500;  // characters of a note, as a head's
    if (note.words.size() > 4 * longest)
        throw http_error(400, fmt::format("a note has at most {} characters", longest));
    if (note.words.empty() && note.jpeg.empty() && !note.number)
        throw http_error(400, "words, jpeg or number: one of them is wanted");
    std::string text = row.text;
    std::string what = "noted something";
    if (note.number) {
        text = edited(job::set_value(text, "casting.number", job::toml_string(*note.number)));
        what = fmt::format("the number cast on it is {}", *note.number);
    }
    if (!note.words.empty() || !note.jpeg.empty()) {
        job::Fields fields;
        if (!note.words.empty()) fields.emplace_back("words", job::toml_string(note.words));
        fields.emplace_back("by", job::toml_string(by.name));
        fields.emplace_back("at", job::toml_string(store::iso_time(store::now_ms())));
        if (!note.jpeg.empty()) {
            constexpr long most = 20;  // so that its file, with them in it, is one another shop takes in
            const auto there = notes_json(job::read_text(text).root().find("casting"));
            if (std::count_if(there.begin(), there.end(),
                              [](const Json& n) { return !n["photograph"].is_null(); }) >= most)
                throw http_error(409, fmt::format("a casting keeps at most {} photographs", most));
            const auto bytes = store::bytes_of_base64(note.jpeg);
            if (!bytes) throw http_error(400, "jpeg is a photograph in base64");
            const auto name = bench.photographs.put(*bytes);
            if (!name) throw http_error(name.error());
            fields.emplace_back("photograph", job::toml_string(*name));
            what = "a photograph of it";
        }
        text = edited(job::append_table(text, "casting.note", fields));
    }
    if (const auto read = job::read_casting(text, "casting"); !read)
        throw http_error(400, to_line(read.error().front()));
    return take(Castings(bench.database).change(by, row.id, row.version, text, what));
}

std::string casting_photograph(Workbench& bench, const CastingRow& row, const std::string& name) {
    const auto document = job::read_text(row.text);
    for (const auto& note : document.root().find("casting").find("note").items())
        if (store::is_photograph_name(name) && note.find("photograph").text() == name)
            return found(bench.photographs.get(name), "photograph of this casting");
    throw http_error(404, "there is no such photograph of this casting");
}

CastingRow imported_casting(Workbench& bench, const store::Person& by, const std::string& text) {
    if (text.size() > job::max_file_bytes) throw http_error(413, "a casting's file has at most 16 MiB");
    const auto read = job::read_casting(text, "casting");
    if (!read)
        throw http_error(400, "the casting's file cannot be read: " + to_line(read.error().front()),
                         read.error());
    const std::string name = name_in(text);
    if (name.empty()) throw http_error(400, "casting.name is missing: what is the casting called?");
    const CastingRow row{0, name, 1, 0, {}, {}, text};
    if (const auto job = as_job(row, bench.shelf.current().text); !job)
        throw http_error(400, "no job can be made of it: " + to_line(job.error().front()), job.error());
    return take(
        Castings(bench.database).make(by, name, photographs_kept(bench, text), "taken in from a file"));
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
