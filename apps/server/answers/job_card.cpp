#include "server/answers/job_card.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <map>

#include "seatwright/job/heads.hpp"
#include "seatwright/job/key_names.hpp"
#include "seatwright/store/chain.hpp"
#include "seatwright/store/toml_json.hpp"
#include "seatwright/words/english_server.hpp"
#include "server/answers/store_json.hpp"

namespace seatwright::server {

namespace {

// The stage that uses a kind of reading.
std::string stage_word_of(store::EntryKind kind) {
    using enum store::EntryKind;
    static const std::map<store::EntryKind, std::string> stages{
        {touch, "find"}, {level, "hold"}, {guide, "find"}, {seat, "shape"}, {first, "cut"}, {proof, "prove"}};
    const auto at = stages.find(kind);
    return at == stages.end() ? "" : at->second;
}

bool in_conflict(const StoredJob& stored, const std::string& stage, const std::string& head) {
    return std::any_of(stored.resolution.conflicts.begin(), stored.resolution.conflicts.end(),
                       [&](const auto& conflict) {
                           return stage_word_of(conflict.place.kind) == stage && conflict.place.head == head;
                       });
}

// The last word of a person on that stage of that head.
bool said_done(const StoredJob& stored, const std::string& stage, const std::string& head) {
    for (std::size_t w = stored.words.size(); w-- > 0;) {
        const std::size_t i = stored.words[w];
        const auto& e = stored.entries[i];
        if (e.kind == store::EntryKind::done && stored.resolution.standing[i].live && e.head == head &&
            e.values.value("stage", "") == stage)
            return e.values["done"] == true;
    }
    return false;
}

bool has_reading(const StoredJob& stored, store::EntryKind kind) {
    for (std::size_t i = 0; i < stored.entries.size(); ++i)
        if (stored.entries[i].kind == kind && !stored.resolution.standing[i].used.empty()) return true;
    return false;
}

// Heads on record, and those of which every seat is measured.
Json heads_json(const StoredJob& stored, const Computation& computation) {
    if (!computation.readable()) return {{"all", 0}, {"finished", 0}};
    return {{"all", job::known_heads(computation.job()).size()}, {"finished", stored.heads_finished}};
}

// The values of the last note that says this; null: none does, or it was said to hold no more.
Json said_last(const StoredJob& stored, const std::string& key) {
    for (std::size_t w = stored.words.size(); w-- > 0;) {
        const std::size_t i = stored.words[w];
        const auto& e = stored.entries[i];
        if (e.kind != store::EntryKind::note || !stored.resolution.standing[i].live) continue;
        const auto said = e.values.find(key);
        if (said != e.values.end()) return *said == "" ? Json(nullptr) : e.values;
    }
    return nullptr;
}

// null: nothing was said.
Json promised_json(const StoredJob& stored) {
    const auto day = promised_of(stored);
    return day ? Json(*day) : Json(nullptr);
}

// What it is called as a template, and the version of the job that is meant.
Json template_json(const StoredJob& stored) {
    const Json said = said_last(stored, "template");
    if (said.is_null()) return said;
    return {{"name", said["template"]}, {"version", said["version"]}};
}

Json card_of(const StoredJob& stored, Computation& computation, LengthUnit unit) {
    const auto& lines = computation.lines(unit);
    Json marks = Json::object();
    for (const auto& line : lines) marks[line.stage] = mark_of(stored, line, computation.head());
    const bool readable = computation.readable();
    const NextWords next = next_of(stored, lines, computation.head(), job::on_page(unit));
    return {{"title", readable ? computation.job().title : "(cannot be read)"},
            {"head", readable ? computation.job().head.name : ""},
            {"valves", readable ? computation.job().head.valves.size() : 0},
            {"units", stored.units == LengthUnit::inch ? "in" : "mm"},
            {"marks", std::move(marks)},
            {"heads", heads_json(stored, computation)},
            {"promised", promised_json(stored)},
            {"template", template_json(stored)},
            {"next", next.next},
            {"frees", next.frees}};
}

}  // namespace

std::optional<std::string> promised_of(const StoredJob& stored) {
    const Json said = said_last(stored, "promised");
    return said.is_null() ? std::nullopt : std::optional(said["promised"].get<std::string>());
}

Json order_json(const store::Order& order) {
    Json serials = Json::object();
    for (const auto& [head, serial] : order.serials) serials[head] = serial;
    return {{"number", order.number}, {"customer", order.customer}, {"serials", std::move(serials)}};
}

std::string order_words(const store::Order& order, const StoredJob& stored, const std::string& head) {
    constexpr std::size_t shown = 8;
    std::vector<std::string> parts;
    if (!order.number.empty()) parts.push_back("Order " + order.number);
    if (!order.customer.empty()) parts.push_back("for " + order.customer);
    if (const auto day = promised_of(stored)) parts.push_back("promised for " + *day);
    if (const auto own = order.serials.find(head); own != order.serials.end())
        parts.push_back("serial number " + own->second);
    else if (head.empty())
        for (const auto& [one, serial] : order.serials)
            if (parts.size() < shown) parts.push_back(fmt::format("head {}: serial number {}", one, serial));
    return fmt::format("{}", fmt::join(parts, " · "));
}

std::string mark_of(const StoredJob& stored, const report::StageLine& line, const std::string& head) {
    if (in_conflict(stored, line.stage, head) || line.state == report::StageState::needs_you)
        return "needs you";
    if (line.state != report::StageState::open && said_done(stored, line.stage, head)) return "done";
    return report::name_of(line.state);
}

NextWords next_of(const StoredJob& stored, const std::vector<report::StageLine>& lines,
                  const std::string& head, const Speech& speech) {
    if (!stored.resolution.conflicts.empty())
        return {
            in_words(sentence<"two-values">("place"_is = to_words(stored.resolution.conflicts.front().place)),
                     speech),
            ""};
    for (const auto& line : lines)
        if (line.state == report::StageState::needs_you) return {line.next, line.frees};
    const auto &hold = lines[0], &find = lines[1], &shape = lines[2], &cut = lines[3], &prove = lines[4];
    if (hold.state == report::StageState::open) return {hold.next, hold.frees};
    if (has_reading(stored, store::EntryKind::proof)) return {prove.next, prove.frees};
    if (!has_reading(stored, store::EntryKind::touch)) return {hold.next, hold.frees};
    if (mark_of(stored, find, head) != "done") return {find.next, find.frees};
    if (shape.state == report::StageState::open) return {shape.next, shape.frees};
    const auto& left = cut.state == report::StageState::open ? shape : cut;
    return {left.next, left.frees};
}

namespace {

// A job whose entries are damaged: the others are shown beside it, and it says what is wrong.
Json damaged_card(const std::string& what) {
    Json marks = Json::object();
    for (const auto stage :
         {job::Stage::hold, job::Stage::find, job::Stage::shape, job::Stage::cut, job::Stage::prove})
        marks[std::string(job::name_of(stage))] = "needs you";
    return {{"title", "(damaged)"},
            {"head", ""},
            {"valves", 0},
            {"units", "mm"},
            {"marks", std::move(marks)},
            {"heads", {{"all", 0}, {"finished", 0}}},
            {"next", what},
            {"frees", ""}};
}

std::string card_text(Workbench& bench, const store::JobRow& row, std::optional<LengthUnit> unit) {
    const std::string name = !unit ? "own units" : *unit == LengthUnit::inch ? "in" : "mm";
    try {
        return bench.cache.card(row.id, name, [&] {
            const auto stored = bench.cache.stored(row.id);
            const Json card =
                card_of(*stored, *bench.cache.computation(stored, ""), unit.value_or(stored->units));
            return card.dump(-1, ' ', false, Json::error_handler_t::replace);
        });
    } catch (const store::Damaged& damaged) {
        return damaged_card(damaged.what()).dump();
    }
}

Json with_row(const Json& made, const store::JobRow& row) {
    Json card{{"id", row.id}};
    card.update(made);
    card.update({{"version", row.version},
                 {"sequence", row.sequence},
                 {"created_at", store::iso_time(row.made_ms)},
                 {"changed_at", store::iso_time(row.changed_ms)},
                 {"changed_by", row.changed_by},
                 {"archived", row.archived}});
    return card;
}

}  // namespace

Json open_card_json(const StoredJob& stored, Computation& computation, LengthUnit unit) {
    return with_row(card_of(stored, computation, unit), stored.row);
}

Json card_json(Workbench& bench, const store::JobRow& row, std::optional<LengthUnit> unit) {
    return card_json(bench, row, unit, bench.orders.of(row.id));
}

Json card_json(Workbench& bench, const store::JobRow& row, std::optional<LengthUnit> unit,
               const store::Order& order) {
    Json card = with_row(Json::parse(card_text(bench, row, unit)), row);
    card.update({{"number", order.number}, {"customer", order.customer}});
    return card;
}

Json job_json(Workbench& bench, const StoredJob& stored, std::optional<LengthUnit> unit) {
    Json job = card_json(bench, stored.row, unit);
    job["text"] = stored.version.text;
    job["tables"] = store::tables_of(stored.version.text);
    job["shop"] = stored.version.shop_text ? "own" : "shelf";
    job["shop_text"] = stored.version.shop_text ? Json(*stored.version.shop_text) : Json(nullptr);
    const auto taken = bench.taken.first(stored.row.id);
    job["first_taken"] =
        taken ? Json{{"file", taken->file}, {"by", taken->by}, {"at", store::iso_time(taken->at_ms)}}
              : Json(nullptr);
    const auto limits = bench.open_limits.of(stored.row.id);
    job["open_limits"] = limits ? Json(*limits) : Json(nullptr);
    job["undo_to"] = stored.version.undo_to ? Json(*stored.version.undo_to) : Json(nullptr);
    job["redo_to"] = stored.version.redo_to ? Json(*stored.version.redo_to) : Json(nullptr);
    return job;
}

}  // namespace seatwright::server
