#include "seatwright/brought/figure_json.hpp"

#include <string>

#include "seatwright/brought/brought.hpp"
#include "seatwright/job/kind_word.hpp"

namespace seatwright::brought {

using namespace report;

const char* hole_word(survey::HoleKind kind) {
    return kind == survey::HoleKind::bolt ? "bolt" : kind == survey::HoleKind::plug ? "plug" : "other";
}

nlohmann::ordered_json figure_u(const survey::Figure& figure, double scale) {
    if (!figure.value) return nullptr;
    return number(figure.u, scale);
}

void add_figure(nlohmann::ordered_json& out, const char* key, const survey::Figure& figure, double scale) {
    out[key] = number(figure.value, scale);
    out[std::string("u_") + key] = figure_u(figure, scale);
}

nlohmann::ordered_json json_of(const std::vector<survey::Repeat>& repeats, const Speech& speech) {
    auto out = nlohmann::ordered_json::array();
    for (const auto& r : repeats)
        out.push_back({{"what", r.what},
                       {"value_mm", number(r.value)},
                       {"residual_mm", number(r.residual)},
                       {"chance", number(r.chance)},
                       {"text", in_words(r.words, speech)}});
    return out;
}

nlohmann::ordered_json json_of(const survey::Missing& missing, const Speech& speech) {
    return {{"what", in_words(missing.what, speech)},
            {"why", in_words(missing.why, speech)},
            {"next", in_words(missing.next, speech)}};
}

nlohmann::ordered_json json_of(const std::vector<survey::Missing>& missing, const Speech& speech) {
    auto out = nlohmann::ordered_json::array();
    for (const auto& m : missing) out.push_back(json_of(m, speech));
    return out;
}

nlohmann::ordered_json kind_json(const std::optional<job::Kind>& kind) {
    if (!kind) return nullptr;
    return job::kind_word(*kind);
}

}  // namespace seatwright::brought
