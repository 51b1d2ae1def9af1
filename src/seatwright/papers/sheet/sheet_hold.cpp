#include "seatwright/papers/sheet/sheet_hold.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/papers/drawings/draw_hold.hpp"
#include "seatwright/papers/sheet/sheet_words.hpp"
#include "seatwright/report/said_figures.hpp"
#include "seatwright/report/show.hpp"
#include "seatwright/words/english_papers.hpp"

namespace seatwright::papers {

using namespace report;

namespace {

// At most this many setups are drawn side by side; more go on in further rows.
constexpr std::size_t views_in_a_row = 4, fronts_in_a_row = 2;
constexpr double between_views = 2;
constexpr double single_height = 66, pair_height = 64, row_height = 52, tight_height = 46;  // mm of paper
constexpr double front_height = 44, front_height_letter = 38;

using Chosen = std::vector<std::size_t>;  // indices into hold.setups, ascending

Chosen all_of(const hold::Hold& hold) {
    Chosen out(hold.setups.size());
    for (std::size_t s = 0; s < out.size(); ++s) out[s] = s;
    return out;
}

Chosen steepest(const hold::Hold& hold, std::size_t most) {
    Chosen out = all_of(hold);
    std::stable_sort(out.begin(), out.end(), [&](std::size_t a, std::size_t b) {
        return hold.setups[a].safety.slope > hold.setups[b].safety.slope;
    });
    out.resize(std::min(most, out.size()));
    std::sort(out.begin(), out.end());
    return out;
}

// The one swung furthest each way.
Chosen most_swung(const hold::Hold& hold) {
    const auto [low, high] =
        std::minmax_element(hold.setups.begin(), hold.setups.end(),
                            [](const auto& a, const auto& b) { return a.swing < b.swing; });
    Chosen out{static_cast<std::size_t>(low - hold.setups.begin()),
               static_cast<std::size_t>(high - hold.setups.begin())};
    std::sort(out.begin(), out.end());
    out.erase(std::unique(out.begin(), out.end()), out.end());
    return out;
}

void say_left_out(Pages& sheet, const hold::Hold& hold, std::size_t ends, std::size_t fronts,
                  const Speech& speech) {
    const std::size_t setups = hold.setups.size();
    std::vector<Sentence> views;
    if (ends < setups) views.push_back(sentence<"from-the-end">("count"_is = ends));
    if (fronts > 0 && fronts < setups)
        views.push_back(fronts == 1 ? sentence<"from-the-front">() : sentence<"from-the-front-each">());
    if (!views.empty())
        sheet.sentence(in_words(sentence<"setups-drawn">("setups"_is = setups,
                                                         "views"_is = list_of(views, Join::semicolons)),
                                speech),
                       {Ink::faint, "•", true});
}

PaperTable full_table(const job::Job& job, const hold::Hold& hold, LengthUnit unit) {
    PaperTable table;
    table.columns = {{"setup", Anchor::start},
                     {"tilt °"},
                     {"swing °"},
                     {"plumb within °"},
                     {"guides"},
                     {"datum", Anchor::start},
                     {fmt::format("spare X {}", unit_name(unit))},
                     {fmt::format("spare Y {}", unit_name(unit))},
                     {"deck slope °"},
                     {"slip factor"},
                     {"when released", Anchor::start}};
    for (const auto& setup : hold.setups)
        table.rows.push_back({setup.id, angle(setup.tilt), angle(setup.swing),
                              angle(setup.worst_plumb_error, 3), std::to_string(setup.valves.size()),
                              job.head.valves[setup.datum].id, length(setup.travel_margin[0], unit),
                              length(setup.travel_margin[1], unit), angle(setup.safety.slope),
                              slip_on_sheet(setup.safety), release_on_sheet(setup.safety)});
    return table;
}

PaperTable tight_table(const job::Job& job, const hold::Hold& hold) {
    PaperTable table;
    table.columns = {
        {"setup", Anchor::start},   {"tilt °"}, {"swing °"}, {"plumb °"}, {"datum", Anchor::start}, {"slip"},
        {"released", Anchor::start}};
    for (const auto& setup : hold.setups)
        table.rows.push_back({setup.id, angle(setup.tilt), angle(setup.swing),
                              angle(setup.worst_plumb_error, 3), job.head.valves[setup.datum].id,
                              slip_on_sheet(setup.safety), release_on_sheet(setup.safety)});
    return table;
}

// "Travel to spare at least X 120.5 mm (setup C), Y 40.2 mm (setup A)."; empty where no travel is known.
Sentence least_spare(const hold::Hold& hold) {
    List each{Join::commas, {}};
    for (const std::size_t axis : {std::size_t{0}, std::size_t{1}}) {
        const hold::Setup* least = nullptr;
        for (const auto& setup : hold.setups)
            if (setup.travel_margin[axis] &&
                (!least || *setup.travel_margin[axis] < *least->travel_margin[axis]))
                least = &setup;
        if (least)
            each.items.emplace_back(sentence<"spare-of">("axis"_is = axis == 0 ? "X" : "Y",
                                                         "spare"_is = length_said(least->travel_margin[axis]),
                                                         "setup"_is = least->id));
    }
    return each.items.empty() ? Sentence() : sentence<"travel-to-spare">("each"_is = std::move(each));
}

}  // namespace

void hold_views(Pages& sheet, const job::Job& job, const hold::Hold& hold, const Speech& speech,
                HoldViews views) {
    const LengthUnit unit = speech.unit;
    const std::size_t setups = hold.setups.size();
    if (setups == 0) return;
    const auto rows_of = [&](const Chosen& chosen, std::size_t most, double high, Seen seen) {
        const auto across = static_cast<double>(most);
        const double wide = (sheet.width() - between_views * (across - 1)) / across;
        for (std::size_t from = 0; from < chosen.size(); from += most) {
            std::vector<Drawing> row;
            for (std::size_t k = from; k < std::min(chosen.size(), from + most); ++k)
                row.push_back(draw_hold(job, hold, chosen[k], {wide, high, seen, unit}));
            sheet.row(row, between_views);
        }
    };
    if (setups == 1) {  // room for both views beside each other
        const double wide = (sheet.width() - between_views) / 2;
        const double high = views == HoldViews::all ? single_height : tight_height;
        sheet.row({draw_hold(job, hold, 0, {wide, high, Seen::from_end, unit}),
                   draw_hold(job, hold, 0, {wide, high, Seen::from_front, unit})},
                  between_views);
        return;
    }
    const bool front =
        views != HoldViews::fewest && std::any_of(hold.setups.begin(), hold.setups.end(), is_swung);
    const bool every = views == HoldViews::all;
    const Chosen ends = every ? all_of(hold) : steepest(hold, views_in_a_row);
    const Chosen fronts = !front ? Chosen{} : every ? all_of(hold) : most_swung(hold);
    rows_of(ends, std::clamp<std::size_t>(setups, 2, views_in_a_row),
            !every       ? tight_height
            : setups > 2 ? row_height
                         : pair_height,
            Seen::from_end);
    rows_of(fronts, fronts_in_a_row, sheet.tall() ? front_height : front_height_letter, Seen::from_front);
    say_left_out(sheet, hold, ends.size(), fronts.size(), speech);
}

void hold_table(Pages& sheet, const job::Job& job, const hold::Hold& hold, const Speech& speech) {
    if (hold.setups.size() <= setups_apart) {
        sheet.table(full_table(job, hold, speech.unit));
        return;
    }
    sheet.side_by_side(fmt::format("{} setups", hold.setups.size()), tight_table(job, hold));
    if (const Sentence words = least_spare(hold); !words.empty())
        sheet.sentence(in_words(words, speech), {Ink::line, "•"});
}

}  // namespace seatwright::papers
