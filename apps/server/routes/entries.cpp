// Readings and what people say of them: stored before they are answered, told to every screen on the job.
#include <fmt/format.h>

#include <algorithm>
#include <ctime>
#include <set>
#include <utility>

#include "seatwright/job/heads.hpp"
#include "seatwright/store/check.hpp"
#include "seatwright/store/reading_tables.hpp"
#include "server/answers/job_state.hpp"
#include "server/answers/store_json.hpp"
#include "server/intake/times.hpp"
#include "server/routes/routes.hpp"

namespace seatwright::server {

namespace {

using store::EntryKind;
using store::NewEntry;
using store::Role;

// What has come in since, and what that may have changed the standing of: entries it corrects, and those of
// the same guides and seats. One flag an entry.
std::vector<bool> changed_since(const GrowingList<store::Entry>& entries, long long since) {
    std::set<long long> corrected;
    std::set<std::pair<std::string, std::string>> places;
    for (std::size_t i = entries.size(); i-- > 0;) {  // corrections name earlier entries
        const store::Entry& e = entries[i];
        if (e.sequence <= since && !corrected.contains(e.id)) continue;
        places.emplace(e.head, e.valve);
        if (e.corrects) corrected.insert(*e.corrects);
    }
    std::vector<bool> changed(entries.size());
    for (std::size_t i = 0; i < entries.size() && !places.empty(); ++i)
        changed[i] = places.contains({entries[i].head, entries[i].valve});
    return changed;
}

void list_entries(Call& call, Workbench& bench) {
    const auto stored = bench.cache.stored(call.number(1));
    const long long after = call.query_number("after").value_or(0);
    const std::string head = call.query("head");
    auto since = call.query_number("since");
    if (since && *since > stored->row.sequence) since.reset();  // of another record than this
    const auto changed = since ? changed_since(stored->entries, *since) : std::vector<bool>();
    auto entries = report::JsonText::array();
    for (std::size_t i = 0; i < stored->entries.size(); ++i) {
        const auto& e = stored->entries[i];
        if (e.sequence > after && (head.empty() || e.head == head) && (!since || changed[i]))
            entries.push_back(text_of(e, stored->resolution.standing[i]));
    }
    Json conflicts = Json::array();
    for (const auto& conflict : stored->resolution.conflicts) conflicts.push_back(to_json(conflict));
    report::JsonText answer{
        {"entries", entries},
        {"conflicts", report::JsonText::of(conflicts.dump(-1, ' ', false, Json::error_handler_t::replace))},
        {"sequence", stored->row.sequence}};
    if (since) answer["since"] = *since;
    call.answer_text(200, std::move(answer).text(), "application/json");
}

NewEntry new_entry_of(const Json& body, const std::string& kind_name) {
    NewEntry e;
    const auto kind = store::entry_kind_named(kind_name);
    if (!kind) throw http_error(400, "kind is touch, level, guide, seat, first, proof, done or note");
    e.kind = *kind;
    e.client_key = text_field(body, "client_key");
    e.head = text_field_if(body, "head").value_or("1");
    e.valve = text_field_if(body, "valve").value_or("");
    e.units = units_named(text_field_if(body, "units").value_or("")).value_or(LengthUnit::mm);
    e.corrects = number_field_if(body, "corrects");
    e.withdrawn = flag_field(body, "withdrawn");
    e.repeat = flag_field(body, "repeat");
    e.reason = text_field_if(body, "reason").value_or("");
    if (const auto said = text_field_if(body, "made_at")) {
        e.said_ms = ms_of(*said);
        if (!e.said_ms) throw http_error(400, "made_at is a time such as 2026-01-31T12:34:56.789Z");
    }
    return e;
}

// A correction stays with the kind of reading it corrects.
void check_correction(Workbench& bench, long long job, const NewEntry& entry) {
    if (!entry.corrects) return;
    const auto corrected = found(bench.entries.one(job, *entry.corrects), "entry to correct in this job");
    if (corrected.kind != entry.kind)
        throw http_error(400, fmt::format("a {} is not corrected by a {}", store::name_of(corrected.kind),
                                          store::name_of(entry.kind)));
}

// Refuses what is not fit to be stored. What was stored before under the same client key is not judged again:
// it is answered as it was, whatever else has changed since.
void check_new(Workbench& bench, long long job, const NewEntry& entry) {
    if (bench.entries.known(job, entry.client_key)) return;
    const auto stored = bench.cache.stored(job);
    if (!stored->document) throw http_error(409, "the job file cannot be read as it stands; mend it first");
    if (auto fault = store::fault_of_entry(*stored->document, entry)) throw http_error(*fault);
    check_correction(bench, job, entry);
}

// Whether an entry changes what so many heads learned from that nobody should wait for it.
bool changes_many_heads(const StoredJob& before, const NewEntry& entry) {
    constexpr std::size_t many = 50;
    if (!before.job.job || (!entry.corrects && entry.kind != EntryKind::choice)) return false;
    const auto heads = job::known_heads(*before.job.job);
    const auto at = std::find(heads.begin(), heads.end(), entry.head);
    return static_cast<std::size_t>(heads.end() - at) > many;
}

void record(Call& call, Workbench& bench, const NewEntry& entry) {
    const long long job = call.number(1);
    check_new(bench, job, entry);
    const bool again = changes_many_heads(*bench.cache.stored(job), entry);
    const auto stored = bench.entries.append(call.person(), job, entry);
    if (!stored) {
        HttpError stopped = http_error(stored.error());
        if (stored.error().entry)
            stopped.body["entry"] = to_json(found(bench.entries.one(job, *stored.error().entry), "entry"));
        throw stopped;
    }
    Json json = to_json(stored->entry);
    if (again && !stored->again) {
        bench.recompute.again(job);
        bench.publish(job, "entry", json);
        return call.answer(201, json);
    }
    const auto after = bench.cache.stored(job);
    // Others may have come in behind it.
    for (std::size_t i = after->entries.size();
         i-- > 0 && after->entries[i].sequence >= stored->entry.sequence;)
        if (after->entries[i].id == stored->entry.id)
            json = to_json(stored->entry, after->resolution.standing[i]);
    if (!stored->again) bench.publish(job, "entry", json);
    const std::string since = call.query("since");
    if (!since.empty())
        if (const auto delta = delta_text(bench, job, {call.query("head"), call.query_units()}, since)) {
            std::string text = json.dump(-1, ' ', false, Json::error_handler_t::replace);
            text.back() = ',';
            return call.answer_text(stored->again ? 200 : 201, text + "\"delta\":" + *delta + "}",
                                    "application/json");
        }
    call.answer(stored->again ? 200 : 201, json);
}

// A name among the values would be shown as that person's word; here speaks only who is logged in. Nor is
// that name stored there: an entry names people by number (its login), so that a name can be erased.
void take_names_out(NewEntry& entry, const store::Person& person) {
    for (const std::string key : {"by", "accepted_by"}) {
        const auto said = entry.values.find(key);
        if (said == entry.values.end()) continue;
        if (*said != person.name)
            throw http_error(
                400, fmt::format("{} is who is logged in, {}: nobody is named for another; leave it out{}",
                                 key, person.name,
                                 key == "by" ? ", or say who read it as read_by beside the values"
                                             : ", or let them log in and accept it themselves"));
        if (key == "by")
            entry.values.erase(said);
        else
            *said = store::who_is_logged_in;
    }
}

// Who reads for the one who types is somebody of this shop.
void name_reader(NewEntry& entry, const Json& body, Call& call, Workbench& bench) {
    const auto name = text_field_if(body, "read_by");
    if (!name || name->empty()) return;
    if (!store::is_reading(entry.kind))
        throw http_error(400, "read_by says who read a reading; this is none");
    const auto reader = bench.people.named(*name);
    if (!reader || !reader->active)
        throw http_error(400,
                         "read_by: nobody of that name may log in here; it is the name of somebody of this "
                         "shop, as /api/people/names has it");
    if (reader->id != call.person().id) entry.read_by = reader->id;
}

// A photograph comes as the bytes of a JPEG in base64; what is stored in the entry is its name, the SHA-256
// of them.
void keep_photograph(Workbench& bench, NewEntry& entry) {
    const auto given = entry.values.find("jpeg");
    if (given == entry.values.end()) return;
    const auto bytes = given->is_string() ? store::bytes_of_base64(given->get<std::string>()) : std::nullopt;
    if (!bytes || entry.kind != EntryKind::note)
        throw http_error(400, "jpeg is a photograph of a note, in base64");
    const auto name = bench.photographs.put(*bytes);
    if (!name) throw http_error(name.error());
    entry.values.erase("jpeg");
    entry.values["photograph"] = *name;
}

// Of the job whose entry names it.
void photograph(Call& call, Workbench& bench) {
    const auto stored = bench.cache.stored(call.number(1));
    const std::string name = call.part(2);
    const bool named = std::any_of(stored->entries.begin(), stored->entries.end(), [&](const auto& e) {
        return e.kind == EntryKind::note && e.values.value("photograph", "") == name;
    });
    auto bytes = named ? bench.photographs.get(name) : std::nullopt;
    call.answer_text(200, found(std::move(bytes), "photograph in this job"), "image/jpeg");
}

void new_entry(Call& call, Workbench& bench) {
    const Json body = call.json();
    NewEntry e = new_entry_of(body, text_field(body, "kind"));
    if (e.kind == EntryKind::choice || e.kind == EntryKind::override_)
        throw http_error(400, "a choice and a verdict by word have places of their own");
    const auto values = body.find("values");
    if (values == body.end()) throw http_error(400, "values is missing");
    e.values = *values;
    if (!e.values.is_object()) throw http_error(400, "the values of an entry are an object of keys");
    take_names_out(e, call.person());
    name_reader(e, body, call, bench);
    keep_photograph(bench, e);
    if (store::is_reading(e.kind) && !e.withdrawn && !body.contains("units"))
        throw http_error(400, "units is missing: in or mm");
    record(call, bench, e);
}

void choose(Call& call, Workbench& bench) {
    const Json body = call.json();
    NewEntry e = new_entry_of(body, "choice");
    const auto chosen =
        found(bench.entries.one(call.number(1), number_field(body, "chosen")), "entry to choose in this job");
    if (!store::is_reading(chosen.kind)) throw http_error(400, "only a reading can be chosen");
    e.head = chosen.head;
    e.valve = chosen.valve;
    e.values = {{"chosen", chosen.id}};
    record(call, bench, e);
}

void override_verdict(Call& call, Workbench& bench) {
    const Json body = call.json();
    NewEntry e = new_entry_of(body, "override");
    e.values = {{"what", text_field(body, "what")}, {"verdict", text_field(body, "verdict")}};
    record(call, bench, e);
}

}  // namespace

void add_entry_routes(Router& router, Workbench& bench) {
    router.add(
        {"GET", "/api/jobs/{id}/entries", Role::reader, [&](Call& call) { list_entries(call, bench); }});
    router.add(
        {"POST", "/api/jobs/{id}/entries", Role::machinist, [&](Call& call) { new_entry(call, bench); }});
    router.add({"GET", "/api/jobs/{id}/photographs/{file}", Role::reader,
                [&](Call& call) { photograph(call, bench); }});
    router.add({"POST", "/api/jobs/{id}/choices", Role::machinist, [&](Call& call) { choose(call, bench); }});
    router.add(
        {"POST", "/api/jobs/{id}/overrides", Role::lead, [&](Call& call) { override_verdict(call, bench); }});
}

}  // namespace seatwright::server
