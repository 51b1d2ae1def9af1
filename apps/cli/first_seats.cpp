#include "cli/first_seats.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include "cli/files.hpp"
#include "seatwright/shape/first_read.hpp"

namespace seatwright::cli {

namespace {

using job::FirstFigure;

constexpr std::size_t most_bytes = 64u << 20;
constexpr std::array<std::pair<const char*, FirstFigure>, 3> figures{
    {{"depth", FirstFigure::depth},
     {"stem_height", FirstFigure::stem_height},
     {"below_deck", FirstFigure::below_deck}}};

const char* word_of(FirstFigure figure) {
    return std::find_if(figures.begin(), figures.end(), [&](const auto& one) { return one.second == figure; })
        ->first;
}

std::optional<FirstFigure> figure_of(cut::ShallRead::By by) {
    switch (by) {
        case cut::ShallRead::By::depth:
            return FirstFigure::depth;
        case cut::ShallRead::By::stem_height:
            return FirstFigure::stem_height;
        case cut::ShallRead::By::below_deck:
            return FirstFigure::below_deck;
        case cut::ShallRead::By::nothing:
            break;
    }
    return std::nullopt;
}

void keep(FirstSeats& kept, ListedFirst first) {
    std::erase_if(kept.firsts,
                  [&](const ListedFirst& one) { return one.head == first.head && one.valve == first.valve; });
    kept.firsts.push_back(std::move(first));
}

}  // namespace

FirstSeats first_seats_in(const std::filesystem::path& folder, const std::string& job) {
    FirstSeats kept{job, {}};
    const auto text = read_file(folder / paper_list_name, most_bytes);
    if (!text) return kept;
    PaperList list = list_of(*text);
    if (!job.empty() && list.job == job) kept.firsts = std::move(list.firsts);
    return kept;
}

void tell_earlier(job::Job& job, const FirstSeats& kept) {
    if (kept.firsts.empty()) return;
    for (job::FirstSeat& reading : job.readings.firsts) {
        if (reading.planned) continue;
        for (const ListedFirst& first : kept.firsts)
            for (const auto& [word, figure] : figures)
                if (first.head == reading.head && first.valve == reading.valve && first.figure == word)
                    reading.earlier = {figure, first.planned};
    }
}

FirstSeats kept_after(FirstSeats kept, const job::Job& job, const plan::Plan& plan) {
    // Of several readings of a seat the last counts.
    const auto& readings = std::as_const(job).readings.firsts;
    for (const job::FirstSeat& reading : readings)
        if (reading.planned && std::none_of(&reading + 1, readings.end(), [&](const job::FirstSeat& later) {
                return later.head == reading.head && later.valve == reading.valve;
            }))
            keep(kept, {reading.head, reading.valve, word_of(shape::read_by(reading)), *reading.planned});
    for (const cut::Program& program : plan.cut.programs)
        for (const cut::Stop& stop : program.route.stops)
            if (const auto figure = figure_of(stop.reads.by);
                figure && !program.route.draft &&
                (stop.short_cut || program.route.part == cut::FilePart::first))
                keep(kept, {program.route.head, stop.id, word_of(*figure), stop.reads.value});
    return kept;
}

}  // namespace seatwright::cli
