// What survey, scan and drawing do alike: write the job they made, and say what it stands on.
#pragma once

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>

#include "cli/commands.hpp"
#include "cli/say.hpp"
#include "seatwright/brought/brought.hpp"
#include "seatwright/survey/laid_over.hpp"
#include "seatwright/words/notice.hpp"

namespace seatwright::cli {

inline bool blocked(const Notices& notices) {
    return std::any_of(notices.warnings.begin(), notices.warnings.end(),
                       [](const Warning& w) { return w.severity == Severity::blocking; });
}

// At asked.out, whole or not at all. `alone`: it names no shop, so that it must read without faults here.
// False: the reason was told.
bool write_made_job(const Asked& asked, const std::string& job, bool alone);

// The job at asked.over laid over what was found; a note in `notices` where it cannot be. False: the job is
// at fault, which was told.
bool lay_over(const Asked& asked, const survey::Laid& found, Notices& notices,
              std::optional<survey::LaidOver>& over);

// JSON with sentences in the unit of the job made (`own`), or tables in `shown`, with the warnings before and
// the assumptions behind.
template <class Found>
void say_made_job(const Asked& asked, const std::string& title, const Found& found,
                  const std::optional<survey::LaidOver>& over, LengthUnit own, LengthUnit shown,
                  bool written) {
    if (asked.json) {
        auto json = report::json_frame(title, found, {own});
        report::join(json, brought::json_of(found));
        if (!asked.over.empty())
            json["over"] = over ? brought::json_of(*over) : nlohmann::ordered_json(nullptr);
        say_json(json);
        return;
    }
    const report::TextStyle style{table_style(), shown};
    say(report::warnings_text(found, style.speech(), style.table));
    if (!found.warnings.empty()) say("\n");
    say(brought::text_of(found, style));
    if (over) {
        say("\n" + report::heading_text("Laid over: " + asked.over, style.table));
        say(brought::text_of(*over, style));
    }
    say("\n" + report::heading_text("Assumptions", style.table));
    say(report::assumptions_text(found, style.speech(), style.table));
    if (written) say(fmt::format("\nThe job: {}\n", asked.out));
}

}  // namespace seatwright::cli
