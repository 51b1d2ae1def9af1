#include <cmath>
#include <nlohmann/json.hpp>

#include "seatwright/base/version.hpp"
#include "seatwright/report/members.hpp"
#include "seatwright/report/report.hpp"
#include "seatwright/report/values_json.hpp"

namespace seatwright::report {

using nlohmann::ordered_json;

ordered_json with_room(std::size_t keys) {
    ordered_json out = ordered_json::object();
    out.get_ref<ordered_json::object_t&>().reserve(keys);
    return out;
}

void join(ordered_json& into, ordered_json&& more) {
    auto& all = into.get_ref<ordered_json::object_t&>();
    auto& from = more.get_ref<ordered_json::object_t&>();
    all.reserve(all.size() + from.size());
    for (auto& [key, value] : from) all[key] = std::move(value);
}

ordered_json number(std::optional<double> value, double scale) {
    if (!value || !std::isfinite(*value * scale)) return nullptr;
    const double v = *value * scale;
    return v == 0 ? 0.0 : v;  // no minus before a zero
}

Speech speech_of(const job::Job& job) {
    return {job.units};
}

ordered_json json_of(const Warning& warning, const Speech& speech) {
    ordered_json out = with_room(6);
    out["stage"] = warning.stage;
    out["code"] = warning.code;
    out["valve"] = warning.valve ? ordered_json(*warning.valve) : ordered_json(nullptr);
    out["text"] = in_words(warning.text, speech);
    out["values"] = values_json(warning.text, speech);
    out["blocking"] = warning.severity == Severity::blocking;
    return out;
}

ordered_json json_frame(const job::Job& job, const Notices& notices) {
    return json_frame(job.title, notices, speech_of(job));
}

ordered_json json_frame(const std::string& title, const Notices& notices, const Speech& speech) {
    ordered_json out = with_room(16);  // the stages stand beside it
    out["seatwright"] = version;
    out["job"] = title;
    out["warnings"] = ordered_json::array();
    for (const auto& warning : notices.warnings) out["warnings"].push_back(json_of(warning, speech));
    out["assumptions"] = in_words(notices.assumptions, speech);
    return out;
}

JsonMembers frame_members(const std::string& title, JsonText warnings,
                          const std::vector<Sentence>& assumptions, const Speech& speech) {
    JsonMembers out;
    out["seatwright"] = version;
    out["job"] = title;
    out["warnings"] = std::move(warnings);
    out["assumptions"] = in_words(assumptions, speech);
    return out;
}

}  // namespace seatwright::report
