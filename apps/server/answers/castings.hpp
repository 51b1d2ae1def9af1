// Castings as pages show them, and what jobs teach them.
#pragma once

#include <optional>
#include <string>

#include "seatwright/store/castings.hpp"
#include "server/jobs/workbench.hpp"

namespace seatwright::server {

// What is known of it: valves, spacing, heads that taught, what worked, depths, times, notes; its offers are
// a lead's to decide.
Json casting_json(Workbench& bench, const store::CastingRow& row);

// Takes in what finished heads (every seat measured) of a job that names a casting have taught since it was
// last asked, and offers what the job says of its head that the casting does not. A job that names none, or
// none there is, and one that cannot be worked out teach nothing.
void teach_casting(Workbench& bench, long long job);

// A job's heads and description as a new casting, in the name the job gives its head.
store::CastingRow casting_of_job(Workbench& bench, const store::Person& by, long long job);

// Its text with the photographs of its notes in it, for another shop.
std::string casting_file(Workbench& bench, const store::CastingRow& row);

// What a person adds to what is known of it: words, a photograph (base64 of a JPEG), the number cast on it.
struct CastingNote {
    std::string words, jpeg;
    std::optional<std::string> number;
};
store::CastingRow noted(Workbench& bench, const store::Person& by, const store::CastingRow& row,
                        const CastingNote& note);
// The bytes of a photograph that a note of it names.
std::string casting_photograph(Workbench& bench, const store::CastingRow& row, const std::string& name);

// A file of a casting from another shop. Refused: what cannot be read, one of a newer program, a name known.
store::CastingRow imported_casting(Workbench& bench, const store::Person& by, const std::string& text);

// What a job says of its head becomes the casting's, or not.
store::CastingRow decided(Workbench& bench, const store::Person& by, const store::CastingRow& row,
                          long long offer, bool accepted);

// The text of a new job of that casting, machine and fixture of the shelf.
std::string job_of_casting(Workbench& bench, const store::CastingRow& row);

}  // namespace seatwright::server
