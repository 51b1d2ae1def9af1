#include "seatwright/report/said_figures.hpp"

#include <cmath>

#include "seatwright/words/bare_figure.hpp"
#include "seatwright/words/english_report.hpp"

namespace seatwright::report {

namespace {

bool is_known(std::optional<double> value) {
    return value && std::isfinite(*value);
}

const char* const dash = "–";

}  // namespace

Part length_said(std::optional<double> mm) {
    return is_known(mm) ? Part(as_length(*mm)) : Part(dash);
}

Part bare_length_said(std::optional<double> mm) {
    return is_known(mm) ? Part(as_bare_length(*mm)) : Part(dash);
}

Part chance_said(std::optional<double> probability) {
    if (!is_known(probability)) return dash;
    const double p = 100 * *probability;
    constexpr double most = 99.999, last_place = 5e-4, least = 0.1;
    if (p > most + last_place) return sentence<"over">("figure"_is = as_percent(most, 3));
    if (p > 99) return as_percent(p, 3);
    if (p > 0 && p < least / 2) return sentence<"under">("figure"_is = as_percent(least, 1));
    return as_percent(p, 1);
}

Part rate_said(std::optional<double> share, int decimals) {
    return share ? Part(as_percent(100 * *share, decimals)) : Part(sentence<"not-known">());
}

}  // namespace seatwright::report
