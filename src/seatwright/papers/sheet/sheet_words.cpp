#include "seatwright/papers/sheet/sheet_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "seatwright/cut/known.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/job/of_head.hpp"
#include "seatwright/report/attitude.hpp"
#include "seatwright/report/said_figures.hpp"
#include "seatwright/words/bare_figure.hpp"
#include "seatwright/words/english_papers.hpp"

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

Sentence posts_on_sheet(const hold::Posts& posts) {
    const auto span = "span"_is = as_length(posts.span);
    if (posts.clearance && *posts.clearance >= 0)
        return sentence<"posts-clearance">(span, "clearance"_is = as_length(*posts.clearance));
    return sentence<"posts">(span);
}

std::vector<Sentence> program_words(const cut::Cut& cut) {
    if (cut.programs.size() > setups_apart)
        return {sentence<"programs-many">("first"_is = cut.programs.front().file,
                                          "last"_is = cut.programs.back().file,
                                          "count"_is = cut.programs.size())};
    std::vector<Sentence> out;
    for (const auto& program : cut.programs)
        out.push_back(sentence<"program">("setup"_is = program.setup, "file"_is = program.file,
                                          "lines"_is = program.lines));
    return out;
}

namespace {

// "2I, 3I and 4 more", "5 more".
Part likewise(const std::vector<std::string>& others, std::size_t named) {
    const std::size_t more = others.size() - named;
    if (named == 0) return sentence<"so-many-more">("more"_is = more);
    const std::vector<std::string> first(others.begin(), others.begin() + static_cast<std::ptrdiff_t>(named));
    const List names = list_of(first, Join::commas);
    if (more == 0) return names;
    return sentence<"and-more">("names"_is = names, "more"_is = more);
}

}  // namespace

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
        if (w.valve && text.find(*w.valve) == std::string::npos)
            text = in_words(sentence<"of-valve">("valve"_is = *w.valve, "text"_is = std::move(text)), speech);
        if (others.size() >= gathering.apart) {
            const std::size_t named = w.valve ? std::min(others.size(), gathering.named) : 0;
            text = in_words(
                sentence<"likewise">("text"_is = std::move(text), "others"_is = likewise(others, named)),
                speech);
            done.insert(sort);
        }
        out.push_back(text);
    }
    return out;
}

std::vector<Sentence> standing_cautions() {
    return {sentence<"eye-protection">(), sentence<"nobody-under">(), sentence<"maker-first">()};
}

namespace {

// Which valve stands at the left end of a row whose layout looks the same the other way round.
std::vector<Sentence> way_round_checks(const job::Job& job, const plan::Plan& plan) {
    std::vector<Sentence> out;
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
                out.push_back(sentence<"which-way-round">(
                    "setup"_is = setup.id, "kind"_is = job::kind_word(valve.kind), "valve"_is = valve.id));
            }
        }
    }
    return out;
}

}  // namespace

namespace {

// Positions found by touching count from the readout as it stood then; zeroed anew they would all be off by
// what it showed over the datum guide.
std::vector<Sentence> readout_checks(const job::Job& job, const plan::Plan& plan) {
    std::vector<Sentence> out;
    std::vector<std::string> zeroed;
    for (const auto& setup : plan.hold.setups) {
        const std::string& datum = job.head.valves[setup.datum].id;
        const auto* found = cut::found_setup(plan.find, plan.shape.head, setup.id);
        const auto at =
            found != nullptr && cut::any_touched(*found) ? cut::datum_at(setup, *found) : std::nullopt;
        if (at)
            out.push_back(sentence<"readout-as-touched">("setup"_is = setup.id, "guide"_is = datum,
                                                         "x"_is = as_bare_length(at->x()),
                                                         "y"_is = as_bare_length(at->y())));
        else
            zeroed.push_back(datum);
    }
    if (zeroed.size() > setups_apart) {
        out.push_back(sentence<"readout-each">());
    } else if (zeroed.size() == 1) {
        out.push_back(sentence<"readout-in">("guide"_is = zeroed.front()));
    } else if (!zeroed.empty()) {
        List guides{Join::nothing, {zeroed.front()}};
        for (std::size_t i = 1; i < zeroed.size(); ++i)
            guides.items.emplace_back(sentence<"then-guide">("guide"_is = zeroed[i]));
        out.push_back(sentence<"readout-then">("guides"_is = std::move(guides)));
    }
    return out;
}

// Seats whose reading is held against this plan, and a file goes by it.
std::vector<std::string> first_cut_by_this_plan(const job::Job& job, const plan::Plan& plan) {
    std::vector<std::string> out;
    if (std::none_of(plan.cut.programs.begin(), plan.cut.programs.end(),
                     [](const cut::Program& one) { return one.route.part == cut::FilePart::rest; }))
        return out;
    for (const auto& reading : job::of_head(job.readings.firsts, plan.shape.head))
        if (!reading.planned && std::find(out.begin(), out.end(), reading.valve) == out.end())
            out.push_back(reading.valve);
    return out;
}

}  // namespace

std::vector<Sentence> first_cut_checks(const job::Job& job, const plan::Plan& plan) {
    const auto& hold = plan.hold;
    std::vector<Sentence> checks{sentence<"guides-measured">()};
    if (job.depth.deck_cut > 0)
        checks.push_back(sentence<"deck-cut-first">("by"_is = as_length(job.depth.deck_cut)));
    const auto add = [&](std::vector<Sentence> more) {
        for (auto& one : more) checks.push_back(std::move(one));
    };
    add(way_round_checks(job, plan));
    if (hold.posts) checks.push_back(sentence<"posts-and-clamps">("span"_is = as_length(hold.posts->span)));
    double within = job.fixture.plumb_limit;
    for (const auto& setup : hold.setups) within = std::max(within, setup.worst_plumb_error);
    if (hold.setups.size() > setups_apart)
        checks.push_back(sentence<"each-setup-plumb">("within"_is = as_bare_degrees(within, 3)));
    else
        for (const auto& setup : hold.setups)
            checks.push_back(sentence<"setup-plumb">(
                "setup"_is = setup.id, "stands"_is = attitude_of(setup),
                "within"_is =
                    as_bare_degrees(std::max(job.fixture.plumb_limit, setup.worst_plumb_error), 3)));
    add(readout_checks(job, plan));
    add({sentence<"right-pilot">(), sentence<"blade-checked">()});
    if (!job.dialect.top.empty()) checks.push_back(sentence<"to-the-top">("top"_is = job.dialect.top));
    checks.push_back(sentence<"mark-and-zero">());
    if (const auto seats = first_cut_by_this_plan(job, plan); !seats.empty())
        checks.push_back(sentence<"first-file-same">("seats"_is = list_of(seats, Join::with_and),
                                                     "mark"_is = plan.selection.digest));
    return checks;
}

Sentence first_words(const CardRow& row) {
    const auto z = "z"_is = bare_length_said(row.first_z);
    const auto reads = "reads"_is = as_bare_length(row.first_reads.value);
    switch (row.first_reads.by) {
        case cut::ShallRead::By::depth:
            return sentence<"first-z-deep">(z, reads);
        case cut::ShallRead::By::stem_height:
            return sentence<"first-z-stem">(z, reads);
        case cut::ShallRead::By::below_deck:
            return sentence<"first-z-below">(z, reads);
        case cut::ShallRead::By::nothing:
            break;
    }
    return sentence<"first-z">(z);
}

Sentence measure_words(const CardRow& row, After after) {
    const auto valve = "valve"_is = row.id;
    const auto reads = "reads"_is = as_length(row.first_reads.value);
    const bool typed = after == After::second_file;
    switch (row.first_reads.by) {
        case cut::ShallRead::By::depth:
            return typed ? sentence<"measure-depth-type">(valve, reads)
                         : sentence<"measure-depth">(valve, reads);
        case cut::ShallRead::By::stem_height:
            return typed ? sentence<"measure-stem-type">(valve, reads)
                         : sentence<"measure-stem">(valve, reads);
        case cut::ShallRead::By::below_deck:
            return typed ? sentence<"measure-below-type">(valve, reads)
                         : sentence<"measure-below">(valve, reads);
        case cut::ShallRead::By::nothing:
            break;
    }
    return sentence<"no-reading-tells">(valve);
}

}  // namespace seatwright::papers
