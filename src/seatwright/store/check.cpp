#include "seatwright/store/check.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>

#include "seatwright/job/build.hpp"
#include "seatwright/store/given_readings.hpp"
#include "seatwright/store/photographs.hpp"

namespace seatwright::store {

namespace {

constexpr std::size_t least_key = 8, longest_key = 80;
constexpr std::size_t longest_head = 40;
constexpr std::size_t longest_reason = 10'000;  // a trace read from a gauge names each of its readings
constexpr std::array stages{"hold", "find", "shape", "cut", "prove"};

Refusal bad(std::string text) {
    return Refusal{Why::bad, std::move(text), {}, {}, {}};
}

bool printable(const std::string& text) {
    return std::none_of(text.begin(), text.end(),
                        [](char c) { return static_cast<unsigned char>(c) < 0x20; });
}

std::optional<Refusal> fault_of_frame(const NewEntry& e) {
    if (e.client_key.size() < least_key || e.client_key.size() > longest_key || !printable(e.client_key))
        return bad(fmt::format("a client key has {} to {} characters", least_key, longest_key));
    if (e.client_key.starts_with(import_mark))
        return bad(
            fmt::format("a client key does not start with {}: imported readings have those", import_mark));
    if (e.head.empty() || e.head.size() > longest_head || !printable(e.head))
        return bad(fmt::format("a head's name has 1 to {} characters", longest_head));
    if (e.reason.size() > longest_reason)
        return bad(fmt::format("a reason has at most {} bytes", longest_reason));
    if (!e.values.is_object()) return bad("the values of an entry are an object of keys");
    if (e.withdrawn && !e.corrects) return bad("an entry that takes back says which one it takes back");
    return std::nullopt;
}

std::string text_at(const Json& values, const std::string& key) {
    const auto found = values.find(key);
    return found != values.end() && found->is_string() ? found->get<std::string>() : std::string();
}

// A key goes into the job file as it stands, so it must be one plain word.
bool is_plain_key(const std::string& key) {
    return !key.empty() && std::all_of(key.begin(), key.end(), [](char c) {
        return std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '_';
    });
}

constexpr std::size_t longest_step = 120;  // letters of a step's name

std::optional<Refusal> fault_of_done(const NewEntry& e) {
    const auto stage = e.values.find("stage"), done = e.values.find("done");
    const std::string step = text_at(e.values, "step");
    const bool known =
        stage != e.values.end() && std::find(stages.begin(), stages.end(), *stage) != stages.end();
    const bool walked = stage == e.values.end() && !step.empty() && step.size() <= longest_step;
    if ((!known && !walked) || done == e.values.end() || !done->is_boolean())
        return bad(
            "values are {stage: hold, find, shape, cut or prove, done: true or false}, or {step: a step of "
            "the walk of the head, done: true or false}");
    return std::nullopt;
}

constexpr std::size_t longest_words = 500, longest_name = 40;

// "2026-12-31", or empty: none any more.
bool is_day(const std::string& text) {
    if (text.empty()) return true;
    if (text.size() != 10 || text[4] != '-' || text[7] != '-') return false;
    for (const std::size_t i : {0, 1, 2, 3, 5, 6, 8, 9})
        if (text[i] < '0' || text[i] > '9') return false;
    const int month = std::stoi(text.substr(5, 2)), day = std::stoi(text.substr(8, 2));
    return month >= 1 && month <= 12 && day >= 1 && day <= 31;
}

std::optional<Refusal> fault_of_note(const job::Job& job, const NewEntry& e) {
    if (e.withdrawn) return std::nullopt;
    if (!e.valve.empty() && !job.head.index_of(e.valve))
        return bad(fmt::format("the head has no valve {}", e.valve));
    bool says = false;
    for (const auto& [key, value] : e.values.items()) {
        if (key == "reading" && value.is_number_integer()) continue;
        if (key == "version" && value.is_number_integer() && value.get<long long>() > 0)
            continue;  // of a template, see below
        const std::string text = value.is_string() ? value.get<std::string>() : "";
        const bool known =
            value.is_string() &&
            ((key == "words" && !text.empty() && text.size() <= longest_words) ||
             (key == "photograph" && is_photograph_name(text)) ||
             ((key == "name" || key == "template") && text.size() <= longest_name && printable(text)) ||
             (key == "promised" && is_day(text)));
        if (!known)
            return bad(fmt::format(
                "a note has words (up to {} bytes), a photograph, the head's name (up to {}), the day "
                "the job is promised for such as 2026-12-31, the name the job has as a template (up to {}), "
                "or the reading it is about; {} is none of these",
                longest_words, longest_name, longest_name, key));
        says = true;
    }
    if (e.values.contains("version") != !text_at(e.values, "template").empty())
        return bad("a template says which version of the job is meant, and nothing else names one");
    if (!says) return bad("a note says something, names the head or has a photograph");
    return std::nullopt;
}

std::optional<Refusal> fault_of_override(const job::Job& job, const NewEntry& e) {
    if (!job.head.index_of(e.valve)) return bad(fmt::format("the head has no valve {}", e.valve));
    const std::string verdict = text_at(e.values, "verdict");
    if (verdict != "pass" && verdict != "fail") return bad("a verdict set by word is pass or fail");
    if (text_at(e.values, "what").empty()) return bad("say which verdict is set: runout, width, …");
    if (e.reason.empty()) return bad("a verdict set by word needs its reason");
    return std::nullopt;
}

// What the table of keys says of it, and what shows when its keys are seen together; in order of its keys.
Faults faults_of_table(const job::Job& job, const ReadingTable& table) {
    auto [readings, faults] = given_readings({table}, job.units, "", true);
    job::Value root;
    root.holds = job::Value::Holds::table;
    root.fields.push_back({"reading", std::move(readings)});
    auto built = job::build_readings({&root, "", job.units}, &job.head);
    std::move(built.faults.begin(), built.faults.end(), std::back_inserter(faults));
    std::stable_sort(faults.begin(), faults.end(),
                     [](const Fault& a, const Fault& b) { return a.line < b.line; });
    for (auto& fault : faults) fault.line = 0;
    return faults;
}

std::optional<Refusal> fault_of_reading(const job::Job& job, const NewEntry& e) {
    if (e.withdrawn) return std::nullopt;
    if (e.values.empty()) return bad("the entry has no values");
    if (e.values.contains("head") || e.values.contains("valve"))
        return bad("head and valve stand beside the values, not among them");
    for (const auto& [key, value] : e.values.items())
        if (!is_plain_key(key))
            return bad("the keys of the values are those of the job file's reading tables");
    Faults faults = faults_of_table(job, reading_table(e, job.units));
    if (faults.empty()) return std::nullopt;
    Refusal refusal =
        bad(faults.front().key.empty() ? faults.front().text
                                       : fmt::format("{}: {}", faults.front().key, faults.front().text));
    refusal.faults = std::move(faults);
    return refusal;
}

}  // namespace

std::optional<Refusal> fault_of_entry(const job::Job& job, const NewEntry& entry) {
    if (auto fault = fault_of_frame(entry)) return fault;
    switch (entry.kind) {
        case EntryKind::done:
            return fault_of_done(entry);
        case EntryKind::override_:
            return fault_of_override(job, entry);
        case EntryKind::note:
            return fault_of_note(job, entry);
        case EntryKind::choice:
            return std::nullopt;  // names an entry; the desk looks it up
        default:
            return fault_of_reading(job, entry);
    }
}

}  // namespace seatwright::store
