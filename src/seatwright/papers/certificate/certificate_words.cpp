#include "seatwright/papers/certificate/certificate_words.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "seatwright/prove/verdict.hpp"
#include "seatwright/report/show.hpp"

namespace seatwright::papers {

using namespace report;

std::string shown_value(std::optional<double> value, const std::string& what, LengthUnit unit) {
    if (!value) return "–";
    return what.starts_with("vacuum") ? fmt::format("{} {}", vacuum(*value, unit), vacuum_unit_name(unit))
                                      : length(value, unit);
}

std::string shown_u(const prove::Judgement& judgement, LengthUnit unit) {
    if (!judgement.value || !judgement.u) return "";
    return "± " + (judgement.what.starts_with("vacuum") ? vacuum_uncertainty(*judgement.u, unit)
                                                        : uncertainty(judgement.u, unit));
}

bool is_place(const prove::Judgement& judgement) {
    return judgement.what.find(',') != std::string::npos;
}

const prove::Judgement* judgement_of(const prove::SeatProof& seat, const std::string& what) {
    for (const auto& j : seat.judgements)
        if (j.what == what) return &j;
    return nullptr;
}

bool has_own_k(const prove::Judgement& judgement) {
    constexpr double shown = 0.005;
    return judgement.value && judgement.u && std::abs(judgement.coverage - prove::usual_coverage) > shown;
}

bool any_vacuum(const prove::Proof& proof) {
    return std::any_of(proof.seats.begin(), proof.seats.end(),
                       [](const auto& seat) { return seat.vacuum.has_value(); });
}

}  // namespace seatwright::papers
