#include "seatwright/papers/sheet/sheet_words.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "seatwright/cut/known.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/report/show.hpp"

namespace seatwright::papers {

using namespace report;

std::string mass_on_sheet(double kg, LengthUnit unit) {
    return unit == LengthUnit::inch ? fmt::format("{:.0f} lb ({:.3g} kg)", kg / kg_per_pound, kg)
                                    : fmt::format("{:.3g} kg", kg);
}

std::string slip_on_sheet(const hold::Safety& safety) {
    if (safety.slip_factor) return fmt::format("{:.1f}", *safety.slip_factor);
    return safety.slope == 0 ? "level" : "–";
}

std::string release_on_sheet(const hold::Safety& safety) {
    if (!safety.friction_known) return "not known";
    if (!safety.slides_when_released) return "stays";
    return safety.stopped ? "is stopped" : "SLIDES";
}

std::string posts_on_sheet(const hold::Posts& posts, LengthUnit unit) {
    std::string out = fmt::format("Posts a and b: set {} apart with a tape before the head is lifted",
                                  length_with_unit(posts.span, unit));
    if (posts.clearance && *posts.clearance >= 0)
        out += fmt::format("; clearance {} in the bolt holes", length_with_unit(posts.clearance, unit));
    return out + ".";
}

std::vector<std::string> program_words(const cut::Cut& cut) {
    if (cut.programs.size() > setups_apart)
        return {fmt::format("Programs {} to {}: {} files, one a setup, each read back and checked.",
                            cut.programs.front().file, cut.programs.back().file, cut.programs.size())};
    std::vector<std::string> out;
    for (const auto& program : cut.programs)
        out.push_back(fmt::format("Setup {}: {}, {} lines, read back and checked.", program.setup,
                                  program.file, program.lines));
    return out;
}

std::vector<std::string> gathered_warnings(const Notices& notices, Severity severity, const Speech& speech,
                                           const Gathering& gathering) {
    std::vector<std::string> out;
    std::set<std::string> done;
    for (const auto& w : notices.warnings) {
        // Of a setup or a head are not of one sort with those of a valve.
        const std::string sort = fmt::format("{}/{}/{}", w.stage, w.code, w.valve ? "valve" : "");
        if (w.severity != severity || done.contains(sort)) continue;
        std::vector<std::string> others;
        for (const auto& other : notices.warnings)
            if (&other != &w && other.severity == severity &&
                other.valve.has_value() == w.valve.has_value() && other.stage == w.stage &&
                other.code == w.code)
                others.push_back(other.valve.value_or(std::string()));
        std::string text = in_words(w.text, speech);
        if (w.valve && text.find(*w.valve) == std::string::npos) text = *w.valve + ": " + text;
        if (others.size() >= gathering.apart) {
            const std::size_t named = w.valve ? std::min(others.size(), gathering.named) : 0;
            std::string names = fmt::format(
                "{}", fmt::join(others.begin(), others.begin() + static_cast<std::ptrdiff_t>(named), ", "));
            if (others.size() > named)
                names += fmt::format("{}{} more", named > 0 ? " and " : "", others.size() - named);
            text += fmt::format(" (likewise {}: figures in plan.json)", names);
            done.insert(sort);
        }
        out.push_back(text);
    }
    return out;
}

std::vector<std::string> standing_cautions() {
    return {
        "Eye protection on; no gloves and no loose sleeves near a turning spindle; chips guarded, never "
        "cleared "
        "by hand.",
        "Nobody stands under or beside a head that is being tilted; clamps are tight before anything turns.",
        "The engine maker's data come before this sheet, local rules before both."};
}

namespace {

// Which valve stands at the left end of a row whose layout looks the same the other way round.
std::vector<std::string> way_round_checks(const job::Job& job, const plan::Plan& plan) {
    std::vector<std::string> out;
    for (const auto& head : plan.find.heads) {
        if (head.head != plan.shape.head) continue;
        for (const auto& found : head.setups) {
            if (!found.pattern_undecidable) continue;
            for (const auto& setup : plan.hold.setups) {
                if (setup.id != found.id || setup.valves.empty()) continue;
                const auto left = std::min_element(
                    setup.valves.begin(), setup.valves.end(),
                    [](const auto& a, const auto& b) { return a.readout.x() < b.readout.x(); });
                const auto& valve = job.head.valves[left->valve];
                out.push_back(
                    fmt::format("Setup {}: {} valve {} at the end where X is least? The touches cannot tell.",
                                setup.id, job::kind_word(valve.kind), valve.id));
            }
        }
    }
    return out;
}

}  // namespace

namespace {

// Positions found by touching count from the readout as it stood then; zeroed anew they would all be off by
// what it showed over the datum guide.
std::vector<std::string> readout_checks(const job::Job& job, const plan::Plan& plan, LengthUnit unit) {
    std::vector<std::string> out, zeroed;
    for (const auto& setup : plan.hold.setups) {
        const std::string& datum = job.head.valves[setup.datum].id;
        const auto* found = cut::found_setup(plan.find, plan.shape.head, setup.id);
        const auto at =
            found != nullptr && cut::any_touched(*found) ? cut::datum_at(setup, *found) : std::nullopt;
        if (at)
            out.push_back(
                fmt::format("Setup {}: readout as it stood at the touches, not zeroed since: over guide "
                            "{} it shows X {}, Y {}.",
                            setup.id, datum, length(at->x(), unit), length(at->y(), unit)));
        else
            zeroed.push_back(datum);
    }
    if (zeroed.size() > setups_apart)
        out.emplace_back(
            "Readout zeroed with the pilot free in each other setup's datum guide, setup by setup.");
    else if (!zeroed.empty())
        out.push_back(fmt::format("Readout zeroed with the pilot free in guide {}{}.",
                                  fmt::join(zeroed, ", then "), zeroed.size() > 1 ? ", setup by setup" : ""));
    return out;
}

}  // namespace

std::vector<std::string> first_cut_checks(const job::Job& job, const plan::Plan& plan, LengthUnit unit) {
    std::vector<std::string> checks;
    const auto& hold = plan.hold;
    checks.emplace_back(
        "Guides measured at top, middle and bottom, repaired or passed, and clean; deck clean where "
        "it sits.");
    for (const auto& words : way_round_checks(job, plan)) checks.push_back(words);
    if (hold.posts)
        checks.push_back(fmt::format("Posts {} apart; head down on its seats; clamps tight; fixture locked.",
                                     length_with_unit(hold.posts->span, unit)));
    double within = job.fixture.plumb_limit;
    for (const auto& setup : hold.setups) within = std::max(within, setup.worst_plumb_error);
    if (hold.setups.size() > setups_apart)
        checks.push_back(
            fmt::format("Each setup: tilt and swing of its row; level on a guide within {}° of plumb.",
                        angle(within, 3)));
    else
        for (const auto& setup : hold.setups)
            checks.push_back(fmt::format(
                "Setup {}: {}; level on a guide within {}° of plumb.", setup.id, attitude_words(setup),
                angle(std::max(job.fixture.plumb_limit, setup.worst_plumb_error), 3)));
    for (auto& words : readout_checks(job, plan, unit)) checks.push_back(std::move(words));
    checks.emplace_back(
        "Right pilot for each guide, turned by hand: no rock, no bind; spindle float free, then "
        "locked.");
    checks.emplace_back("Blade set to its diameter and checked on a ring or by a first light touch.");
    if (!job.dialect.top.empty())
        checks.push_back(
            fmt::format("\"{}\", given by hand with nothing under the tool, takes the spindle of this "
                        "machine to its highest "
                        "place, whatever Z shows: every file begins with it.",
                        job.dialect.top));
    checks.emplace_back(
        "The plan's mark on this sheet is the one in the file's first line. Z0 taken anew for each cutter, "
        "as "
        "the card says; file run dry above the head once.");
    return checks;
}

std::string first_words(const CardRow& row, LengthUnit unit) {
    const std::string value = length(row.first_reads.value, unit);
    std::string shall;
    switch (row.first_reads.by) {
        case cut::ShallRead::By::depth:
            shall = ": " + value + " deep";
            break;
        case cut::ShallRead::By::stem_height:
            shall = ": stem " + value;
            break;
        case cut::ShallRead::By::below_deck:
            shall = ": below deck " + value;
            break;
        case cut::ShallRead::By::nothing:
            break;
    }
    return fmt::format("first Z {}{}", length(row.first_z, unit), shall);
}

std::string measure_words(const CardRow& row, LengthUnit unit, bool second_file) {
    const std::string value = length_with_unit(row.first_reads.value, unit);
    const auto typed = [&](const char* what) {
        return second_file ? fmt::format(" Type {}: the second file is made from it.", what) : std::string();
    };
    switch (row.first_reads.by) {
        case cut::ShallRead::By::depth:
            return fmt::format("Then measure {}, planned {} deep.{}", row.id, value, typed("its depth"));
        case cut::ShallRead::By::stem_height:
            return fmt::format(
                "Then measure {} with the setting valve: its old height was not read, so its depth says "
                "nothing. Stem height planned {}.{}",
                row.id, value, typed("the stem height"));
        case cut::ShallRead::By::below_deck:
            return fmt::format(
                "Then measure {} with its valve: its old height was not read, so its depth says nothing. "
                "Planned {} below the deck.{}",
                row.id, value, typed("below_deck"));
        case cut::ShallRead::By::nothing:
            break;
    }
    return fmt::format(
        "{}: neither its old height nor a drawing height is known, so no reading tells where Z is. Give "
        "stem_height or below_deck of its form.",
        row.id);
}

}  // namespace seatwright::papers
