// The paper of a forecast: how many heads will be good, histograms with limits, what runout comes from, what
// helps most, good heads over the batch, and every figure it stands on with where it came from.
#pragma once

#include <string>
#include <vector>

#include "seatwright/forecast/forecast.hpp"
#include "seatwright/papers/page/pdf.hpp"
#include "seatwright/words/in_words.hpp"

namespace seatwright::batch {

struct ForecastPaperOptions {
    papers::PaperSize paper = papers::a4;
    LengthUnit unit = LengthUnit::mm;
    const words::Catalogue* catalogue = &words::english();
    Speech speech() const { return {unit, catalogue}; }
};

// SVG pages.
std::vector<std::string> forecast_pages(const job::Job& job, const forecast::Forecast& forecast,
                                        const ForecastPaperOptions& options);

// forecast.pdf. Error: a sentence.
tl::expected<std::string, std::string> forecast_pdf(const job::Job& job, const forecast::Forecast& forecast,
                                                    const ForecastPaperOptions& options);

}  // namespace seatwright::batch
