// An entry: one thing a person recorded. Never changed, never erased; a correction is another entry.
#pragma once

#include <nlohmann/json.hpp>
#include <optional>
#include <string>

#include "seatwright/base/units.hpp"

namespace seatwright::store {

using Json = nlohmann::ordered_json;

enum class EntryKind {
    touch,  // the six readings of the job file
    level,
    guide,
    seat,
    first,
    proof,
    choice,     // of several values for one place, this one
    override_,  // a verdict by a lead's word
    done,       // a stage is finished, a person says
    note        // words, a photograph, a name, a promise: what helps people and no stage reads
};

std::string name_of(EntryKind kind);
std::optional<EntryKind> entry_kind_named(const std::string& name);
inline bool is_reading(EntryKind kind) {
    return kind <= EntryKind::proof;
}

struct NewEntry {
    std::string client_key;  // made by the browser, unique in the job: makes sending again safe
    EntryKind kind = EntryKind::touch;
    std::string head = "1";
    std::string valve;  // "?" = an unlabelled touch; empty where none applies
    // Keys of [[reading.<kind>]] but for head and valve. choice: {"chosen": id}; override: {"what",
    // "verdict"}; done: {"stage", "done"}, or {"step", "done"} for a step of the head's walk at the machine.
    // note: some of {"words", "photograph": its SHA-256, "name": of the head, "promised": "2026-12-31", of
    // the job, "reading": the entry it is about}.
    Json values = Json::object();
    LengthUnit units = LengthUnit::mm;  // of bare lengths in `values`
    std::optional<long long> said_ms;   // when the person made it, as the browser says
    std::optional<long long> corrects;  // the entry it takes the place of
    bool withdrawn = false;             // only takes back the one it corrects
    bool repeat = false;                // a deliberate second reading: both are used
    std::string reason;
    // Who read it, where the login only typed it: another person of the shop, by number.
    std::optional<long long> read_by;
};

struct Entry : NewEntry {
    long long id = 0;
    long long job = 0;
    long long sequence = 0;    // 1, 2, 3 … in the job
    long long at_ms = 0;       // when the store wrote it
    std::string by;            // whose login it came from
    std::string read_by_name;  // of `read_by`, as it is now
    std::string digest;        // over it and all before it in the job (store/chain.hpp)
};

}  // namespace seatwright::store
