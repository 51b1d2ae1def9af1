#include "seatwright/batch/forecast_paper.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "seatwright/batch/batch.hpp"
#include "seatwright/batch/draw_forecast.hpp"
#include "seatwright/papers/page/pages.hpp"
#include "seatwright/words/english_papers.hpp"

namespace seatwright::batch {

using namespace papers;

namespace {

constexpr double between_drawings = 8;  // mm, drawings beside one another
constexpr std::size_t most_changes = 12;

void distributions(Pages& paper, const forecast::Forecast& f, const Speech& speech) {
    if (f.characteristics.empty()) return;
    const double room = (paper.width() - between_drawings) / 2;
    std::vector<Drawing> drawn;
    drawn.reserve(f.characteristics.size());
    for (const auto& figure : f.characteristics) drawn.push_back(draw_distribution(figure, room, speech));
    paper.heading("Seats, entering or not", drawn.front().height() + 1);
    for (std::size_t i = 0; i < drawn.size(); i += 2)
        paper.row({drawn.begin() + static_cast<std::ptrdiff_t>(i),
                   drawn.begin() + static_cast<std::ptrdiff_t>(std::min(i + 2, drawn.size()))},
                  between_drawings);
}

// A curve where it is one.
void by_head(Pages& paper, const forecast::Forecast& f, const Speech& speech) {
    if (f.by_head.size() < 2) return;
    const auto [least, most] = std::minmax_element(f.by_head.begin(), f.by_head.end());
    constexpr double alike = 1e-6;
    if (*most - *least < alike) {
        paper.sentence(in_words(sentence<"no-wear-known">(), speech));
        return;
    }
    const auto curve = draw_by_head(f, paper.width());
    paper.heading("Good heads over the batch", curve.height());
    paper.row({curve});
}

void changes(Pages& paper, const forecast::Forecast& f, const Speech& speech) {
    PaperTable table;
    table.columns = {
        {"change", Anchor::start}, {"from"}, {"to"}, {"good then"}, {"gain"}, {"95 %"}, {"costs"}};
    for (const auto& change : f.changes)
        if (change.brings() > gain_worth_telling && table.rows.size() < most_changes)
            table.rows.push_back(change_cells(change, speech));
    if (!table.rows.empty()) paper.table("What helps most", table);
}

void inputs(Pages& paper, const forecast::Forecast& f, LengthUnit unit) {
    PaperTable table;
    table.columns = {{"figure", Anchor::start}, {"value"}, {"from", Anchor::start}};
    for (const auto& input : f.inputs) table.rows.push_back(input_cells(input, unit));
    paper.side_by_side("What it stands on", table);
}

}  // namespace

std::vector<std::string> forecast_pages(const job::Job& job, const forecast::Forecast& f,
                                        const ForecastPaperOptions& options) {
    const Speech speech = options.speech();
    Pages paper(options.paper,
                {"Forecast of a batch", job.title, in_words(sentence<"promises-nothing">(), speech)});
    for (const auto& words : in_words(forecast_sentences(job, f), speech)) paper.sentence(words);
    for (const Warning& warning : f.warnings)
        paper.sentence(in_words(warning.text, speech), {Ink::warn, "▲", true});
    distributions(paper, f, speech);
    const auto causes = draw_forecast_causes(f.causes, paper.width(), speech);
    paper.heading("What runout comes from", causes.height());
    paper.row({causes});
    by_head(paper, f, speech);
    changes(paper, f, speech);
    inputs(paper, f, options.unit);
    for (const Sentence& assumption : f.assumptions)
        paper.sentence(in_words(assumption, speech), {Ink::faint, "", true});
    return paper.documents();
}

tl::expected<std::string, std::string> forecast_pdf(const job::Job& job, const forecast::Forecast& f,
                                                    const ForecastPaperOptions& options) {
    return pdf_of(forecast_pages(job, f, options), options.paper, job.title);
}

}  // namespace seatwright::batch
