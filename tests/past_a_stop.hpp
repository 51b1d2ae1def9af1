// Whether a program that is handed out ran past a STOP: what a stage says so blocks what it is about.
#pragma once

#include <algorithm>
#include <optional>
#include <string>
#include <variant>

#include "seatwright/plan/plan.hpp"
#include "spoken.hpp"

namespace seatwright::fixtures {

// The first STOP of the head planned that a program passes, in words, or nothing. One that names a valve is
// about that seat; one that names neither valve nor setup is about every seat. Of seats without a cutter each
// is held back by itself.
inline std::optional<std::string> past_a_stop(const plan::Plan& plan) {
    // One setup, or a list of them.
    const auto names = [](const Part& what, const std::string& id) {
        const List* list = std::get_if<List>(&what.is());
        return list == nullptr
                   ? what == Part(id)
                   : std::find(list->items.begin(), list->items.end(), Part(id)) != list->items.end();
    };
    for (const Warning& warning : plan.notices().warnings) {
        if (warning.severity != Severity::blocking || (!warning.valve && warning.code == "no-cutter"))
            continue;
        const Part *head = value_of(warning.text, "head"), *setup = value_of(warning.text, "setup");
        if (head != nullptr && *head != Part(plan.shape.head)) continue;
        for (const cut::Program& program : plan.cut.programs) {
            if (program.route.draft || (setup != nullptr && !names(*setup, program.setup))) continue;
            for (const cut::Stop& stop : program.route.stops)
                if (!warning.valve || *warning.valve == stop.id)
                    return program.file + " cuts " + stop.id + " past: " + warning.code + ": " +
                           spoken(warning.text);
        }
    }
    return std::nullopt;
}

}  // namespace seatwright::fixtures
