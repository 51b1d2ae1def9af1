// find for a terminal: one table a setup of where each guide is and whether its pilot enters, then what to
// touch next, the pilots, and what a blind run would give.
#include <fmt/format.h>

#include <cmath>
#include <string>

#include "seatwright/report/report.hpp"
#include "seatwright/report/said_figures.hpp"
#include "seatwright/report/show.hpp"
#include "seatwright/words/bare_figure.hpp"
#include "seatwright/words/english_report.hpp"

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

Sentence way_of(const Vec2& shift) {
    const bool along_x = std::abs(shift.y()) < straight * shift.norm();
    const bool along_y = std::abs(shift.x()) < straight * shift.norm();
    if (along_y) return sentence<"towards">("way"_is = shift.y() < 0 ? "-Y" : "+Y");
    if (along_x) return sentence<"towards">("way"_is = shift.x() < 0 ? "-X" : "+X");
    return sentence<"along-both">("x"_is = as_bare_length(shift.x()), "y"_is = as_bare_length(shift.y()));
}

Sentence square_said(const find::Square& square) {
    if (!square.worth_it) return sentence<"row-true">("move"_is = as_length(std::abs(square.move)));
    return sentence<"shift-post">("post"_is = std::string(1, square.post),
                                  "by"_is = as_length(square.shift.norm()), "way"_is = way_of(square.shift));
}

std::string fit_text(const find::FoundSetup& setup, const TextStyle& style) {
    if (setup.datum_assumed) return in_words(sentence<"map-from-datum">(), style.speech()) + '\n';
    std::string out =
        fmt::format("offset X {} Y {} {}, yaw {} deg", length(setup.offset.x(), style.unit),
                    length(setup.offset.y(), style.unit), unit_name(style.unit), angle(setup.yaw, 4));
    out += setup.yaw_known ? fmt::format(" (sd {})", angle(setup.yaw_sd, 4)) : std::string(" (not known)");
    if (setup.p_value)
        out += fmt::format("; misfit {:.1f} on {} degrees of freedom, p {:.3f}", setup.chi2, setup.dof,
                           *setup.p_value);
    return out + '\n';
}

Sentence next_said(const job::Job& job, const find::FoundSetup& setup) {
    Sentence then;
    if (setup.touches_to_target == 0)
        then = sentence<"that-is-enough">();
    else if (setup.touches_to_target && setup.next_touch)
        then = sentence<"touch-next">("guide"_is = job.head.valves[*setup.next_touch].id,
                                      "more"_is = *setup.touches_to_target);
    else if (setup.next_touch)
        then = sentence<"touch-though">("guide"_is = job.head.valves[*setup.next_touch].id);
    return setup.least_enter_probability
               ? sentence<"least-chance">("chance"_is = chance_said(setup.least_enter_probability),
                                          "then"_is = std::move(then))
               : sentence<"chance-not-known">("then"_is = std::move(then));
}

std::string setup_text(const job::Job& job, const std::string& head, const find::FoundSetup& setup,
                       const TextStyle& style) {
    std::string out = heading_text(fmt::format("Head {}, setup {}", head, setup.id), style.table);
    out += fit_text(setup, style);
    if (setup.learned_from > 0)
        out += fmt::format("pattern and scatter learned from {} earlier heads\n", setup.learned_from);
    if (!setup.alike.empty())
        out += in_words(sentence<"looks-alike">("ways"_is = setup.alike), style.speech()) + '\n';
    for (const find::Assignment& one : setup.assignments) {
        const job::Touch& touch = job.readings.touches[one.touch];
        out += fmt::format("touch at {}, {} taken for {}", length(touch.at.x(), style.unit),
                           length(touch.at.y(), style.unit), job.head.valves[one.valve].id);
        if (one.runner_up_odds)
            out += fmt::format(" ({:.3g} to 1 against the next best reading of them)", *one.runner_up_odds);
        out += '\n';
    }
    out += guides_text(job, setup, style) + in_words(next_said(job, setup), style.speech()) + '\n';
    if (setup.square) out += in_words(square_said(*setup.square), style.speech()) + '\n';
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
    const auto say = [&](const Sentence& words) { out += in_words(words, style.speech()) + '\n'; };
    const auto& head = blind.of_head();
    say(sentence<"every-pilot-enters">("head"_is = chance_said(head.enter_probability),
                                       "worst"_is = chance_said(blind.least_enter_probability)));
    if (head.clearance_for_target)
        say(sentence<"post-clearance">("clearance"_is = as_length(*head.clearance_for_target)));
    if (head.mouth_for_target) say(sentence<"or-mouths">("mouth"_is = as_length(*head.mouth_for_target)));
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
