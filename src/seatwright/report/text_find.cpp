// find for a terminal: one table a setup of where each guide is and whether its pilot enters, then what to
// touch next, the pilots, and what a blind run would give.
#include <fmt/format.h>

#include <cmath>
#include <string>

#include "seatwright/report/report.hpp"
#include "seatwright/report/show.hpp"

namespace seatwright::report {
namespace {

std::string mark_of(const find::FoundGuide& guide, const find::FoundSetup& setup) {
    if (guide.suspect) return setup.set_aside.empty() ? "suspect" : "suspect, set aside";
    if (guide.touched) return "touched";
    if (setup.next_touch == guide.valve) return "touch next";
    return guide.placed ? "" : "place not known";
}

std::string guides_text(const job::Job& job, const find::FoundSetup& setup, const TextStyle& style) {
    const std::string unit = unit_name(style.unit);
    Table table({"valve", "X " + unit, "Y " + unit, "sd X", "sd Y", "enters", ""});
    for (const find::FoundGuide& guide : setup.guides) {
        const auto sd = [&](int axis) {
            if (!guide.placed) return length(std::nullopt, style.unit);
            return length(std::sqrt(std::max(0.0, guide.covariance(axis, axis))), style.unit);
        };
        table.row({job.head.valves[guide.valve].id, length(guide.programmed.x(), style.unit),
                   length(guide.programmed.y(), style.unit), sd(0), sd(1), percent(guide.enter_probability),
                   mark_of(guide, setup)});
    }
    return table.text(style.table);
}

// A shift this near to an axis goes along it: a post is not tapped nearer.
constexpr double straight = 0.1;

std::string square_text(const find::Square& square, const TextStyle& style) {
    if (!square.worth_it)
        return fmt::format("the row runs true within {}: no post need be moved\n",
                           length_with_unit(std::abs(square.move), style.unit));
    const Vec2& shift = square.shift;
    const bool along_x = std::abs(shift.y()) < straight * shift.norm();
    const bool along_y = std::abs(shift.x()) < straight * shift.norm();
    const std::string way =
        along_y   ? fmt::format(" towards {}Y", shift.y() < 0 ? '-' : '+')
        : along_x ? fmt::format(" towards {}X", shift.x() < 0 ? '-' : '+')
                  : fmt::format(": X {} Y {}", length(shift.x(), style.unit), length(shift.y(), style.unit));
    return fmt::format("to run the row true, shift post {} by {}{} of the readout\n", square.post,
                       length_with_unit(shift.norm(), style.unit), way);
}

std::string fit_text(const find::FoundSetup& setup, const TextStyle& style) {
    if (setup.datum_assumed) return "nothing touched: the map from the datum guide, taken as zeroed\n";
    std::string out =
        fmt::format("offset X {} Y {} {}, yaw {} deg", length(setup.offset.x(), style.unit),
                    length(setup.offset.y(), style.unit), unit_name(style.unit), angle(setup.yaw, 4));
    out += setup.yaw_known ? fmt::format(" (sd {})", angle(setup.yaw_sd, 4)) : std::string(" (not known)");
    if (setup.p_value)
        out += fmt::format("; misfit {:.1f} on {} degrees of freedom, p {:.3f}", setup.chi2, setup.dof,
                           *setup.p_value);
    return out + '\n';
}

std::string next_text(const job::Job& job, const find::FoundSetup& setup) {
    std::string out;
    if (setup.least_enter_probability)
        out += fmt::format("least chance of entering {}", percent(setup.least_enter_probability));
    else
        out += "chance of entering not known for every guide (pilot or mouth missing)";
    if (setup.touches_to_target == 0)
        out += "; that is enough";
    else if (setup.touches_to_target && setup.next_touch)
        out += fmt::format("; touch {} next, {} more in all", job.head.valves[*setup.next_touch].id,
                           *setup.touches_to_target);
    else if (setup.next_touch)
        out += fmt::format("; touch {} next, though no number of touches reaches the target",
                           job.head.valves[*setup.next_touch].id);
    return out + '\n';
}

std::string setup_text(const job::Job& job, const std::string& head, const find::FoundSetup& setup,
                       const TextStyle& style) {
    std::string out = heading_text(fmt::format("Head {}, setup {}", head, setup.id), style.table);
    out += fit_text(setup, style);
    if (setup.learned_from > 0)
        out += fmt::format("pattern and scatter learned from {} earlier heads\n", setup.learned_from);
    if (!setup.alike.empty())
        out += fmt::format("this layout looks the same {}\n", in_words(setup.alike, style.speech()));
    for (const find::Assignment& one : setup.assignments) {
        const job::Touch& touch = job.readings.touches[one.touch];
        out += fmt::format("touch at {}, {} taken for {}", length(touch.at.x(), style.unit),
                           length(touch.at.y(), style.unit), job.head.valves[one.valve].id);
        if (one.runner_up_odds)
            out += fmt::format(" ({:.3g} to 1 against the next best reading of them)", *one.runner_up_odds);
        out += '\n';
    }
    out += guides_text(job, setup, style) + next_text(job, setup);
    if (setup.square) out += square_text(*setup.square, style);
    return out;
}

std::string pilots_text(const job::Job& job, const find::Find& find, const TextStyle& style) {
    Table table({"valve", "pilot", std::string("play ") + unit_name(style.unit), "guide", ""});
    for (const find::PilotChoice& choice : find.pilots)
        table.row({job.head.valves[choice.valve].id, choice.pilot ? job.pilots[*choice.pilot].name : "none",
                   length(choice.play, style.unit), choice.repair ? "REPAIR" : "ok",
                   in_words(choice.reason, style.speech())});
    return heading_text("Pilots", style.table) + table.text(style.table);
}

std::string blind_text(const find::BlindRun& blind, const TextStyle& style) {
    std::string out = heading_text("The next head with no touch at all", style.table);
    out += fmt::format("every pilot enters with chance {}; the worst guide {}\n",
                       percent(blind.of_head().enter_probability), percent(blind.least_enter_probability));
    if (blind.of_head().clearance_for_target)
        out += fmt::format("post clearance of {} would make it 99.9 %\n",
                           length_with_unit(blind.of_head().clearance_for_target, style.unit));
    if (blind.of_head().mouth_for_target)
        out +=
            fmt::format("or mouths of {}\n", length_with_unit(blind.of_head().mouth_for_target, style.unit));
    return out;
}

std::string learned_text(const job::Job& job, const find::Find& find, const TextStyle& style) {
    const std::string unit = unit_name(style.unit);
    Table table({"valve", "X " + unit, "Y " + unit, "sd of mean", "scatter", "d.o.f."});
    for (const find::Learned& one : find.learned)
        table.row({job.head.valves[one.valve].id, length(one.mean.x(), style.unit),
                   length(one.mean.y(), style.unit), length(one.sd_of_mean.maxCoeff(), style.unit),
                   length(one.scatter, style.unit), fmt::format("{:.0f}", one.dof)});
    std::string out = heading_text("Learned from the heads on record", style.table) + table.text(style.table);
    for (const find::Repeatability& one : find.repeatability)
        out += fmt::format(
            "setup {}, {} heads: off the drawing alike on every head {}, each casting's own {}\n", one.setup,
            one.heads, length_with_unit(one.alike, style.unit), length_with_unit(one.own, style.unit));
    return out;
}

}  // namespace

std::string text_of(const job::Job& job, const find::Find& find, const TextStyle& style) {
    std::string out;
    for (const find::FoundHead& head : find.heads)
        for (const find::FoundSetup& setup : head.setups)
            out += setup_text(job, head.head, setup, style) + '\n';
    if (!find.pilots.empty()) out += pilots_text(job, find, style) + '\n';
    if (find.blind_run) out += blind_text(*find.blind_run, style) + '\n';
    if (!find.learned.empty()) out += learned_text(job, find, style) + '\n';
    return out;
}

}  // namespace seatwright::report
