// forecast as JSON: the contract's keys, and beside them what the page needs.
#include <algorithm>
#include <nlohmann/json.hpp>

#include "seatwright/batch/batch.hpp"
#include "seatwright/job/kind_word.hpp"

namespace seatwright::batch {

using namespace report;

namespace {

using Json = nlohmann::ordered_json;

Json json_of_setting(const forecast::Setting& setting) {
    if (const auto* value = std::get_if<double>(&setting)) return number(*value);
    return std::get<std::string>(setting);
}

Json json_of_characteristic(const forecast::Characteristic& c) {
    Json bars = Json::array();
    for (const auto& bar : c.bars)
        bars.push_back({{"from", number(bar.from)}, {"to", number(bar.to)}, {"share", number(bar.share)}});
    Json out = with_room(12);
    out["what"] = c.what;
    out["kind"] = job::kind_word(c.kind);
    out["mean"] = number(c.mean);
    out["sd"] = number(c.sd);
    out["p05"] = number(c.p05);
    out["p50"] = number(c.p50);
    out["p95"] = number(c.p95);
    out["limit_low"] = number(c.limit_low);
    out["limit_high"] = number(c.limit_high);
    out["pass_rate"] = number(c.pass_rate);
    out["cpk"] = number(c.cpk);
    out["bars"] = std::move(bars);
    return out;
}

Json json_of_verdict(const forecast::VerdictRates& of) {
    return {{"pass", number(of.pass)}, {"fail", number(of.fail)}, {"undecided", number(of.undecided)}};
}

Json json_of_risk(const forecast::Risk& of) {
    return {{"consumer", number(of.consumer)},
            {"producer", number(of.producer)},
            {"producer_fail", number(of.producer_fail)},
            {"producer_undecided", number(of.producer_undecided)}};
}

Json json_of_change(const forecast::Change& c) {
    Json out = with_room(10);
    out["what"] = c.what;
    out["from"] = json_of_setting(c.from);
    out["to"] = json_of_setting(c.to);
    out["unit"] = c.unit;
    out["pass_rate"] = number(c.pass_rate);
    out["gain"] = number(c.gain);
    out["gain_low"] = number(c.gain_low);
    out["gain_high"] = number(c.gain_high);
    out["cost"] = c.cost ? Json{{"seconds_head", number(c.cost->seconds_head)},
                                {"once", c.cost->once},
                                {"seconds_once", number(c.cost->seconds_once)},
                                {"amount", number(c.cost->amount)},
                                {"currency", c.cost->amount ? Json(c.cost->currency) : Json()}}
                         : Json();
    out["as_measured"] = c.as_measured ? Json{{"verdict", json_of_verdict(c.as_measured->verdict)},
                                              {"risk", json_of_risk(c.as_measured->risk)},
                                              {"gain", number(c.as_measured->gain)},
                                              {"gain_low", number(c.as_measured->gain_low)},
                                              {"gain_high", number(c.as_measured->gain_high)}}
                                       : Json();
    return out;
}

}  // namespace

nlohmann::ordered_json json_of(const job::Job& job, const forecast::Forecast& f, const Speech& /*speech*/) {
    Json touched = Json::array(), characteristics = Json::array(), causes = Json::array(),
         changes = Json::array(), by_head = Json::array(), inputs = Json::array();
    for (const std::size_t valve : f.touched) touched.push_back(job.head.valves[valve].id);
    for (const auto& c : f.characteristics) characteristics.push_back(json_of_characteristic(c));
    for (const auto& c : f.causes)
        causes.push_back({{"cause", c.cause}, {"share", number(c.share)}, {"rms_mm", number(c.rms)}});
    for (const auto& c : f.changes) changes.push_back(json_of_change(c));
    for (std::size_t h = 0; h < f.by_head.size(); ++h)
        by_head.push_back({{"head", h + 1}, {"pass_rate", number(f.by_head[h])}});
    for (const auto& input : f.inputs)
        inputs.push_back({{"what", input.what},
                          {"value", number(input.value)},
                          {"unit", input.unit},
                          {"from", forecast::word(input.from)},
                          {"dof", number(input.dof)}});
    Json out = with_room(18);
    out["heads"] = f.heads;
    out["touched"] = std::move(touched);
    out["draws"] = f.draws ? Json(*f.draws) : Json();
    out["seed"] = f.seed ? Json(*f.seed) : Json();
    out["pass_rate"] = number(f.pass_rate);
    out["pass_low"] = number(f.pass_low);
    out["pass_high"] = number(f.pass_high);
    out["pass_error"] = number(f.pass_error);
    out["verdict"] = f.verdict ? json_of_verdict(*f.verdict) : Json();
    out["risk"] = f.risk ? json_of_risk(*f.risk) : Json();
    out["characteristics"] = std::move(characteristics);
    out["causes"] = std::move(causes);
    out["changes"] = std::move(changes);
    const auto best = std::find_if(f.changes.begin(), f.changes.end(),
                                   [](const forecast::Change& c) { return c.significant && !c.as_measured; });
    out["best_change"] =
        best != f.changes.end() ? Json{{"what", best->what}, {"pass_rate", number(best->pass_rate)}} : Json();
    out["by_head"] = std::move(by_head);
    out["change_at_head"] = f.change_at_head ? Json(*f.change_at_head) : Json();
    out["inputs"] = std::move(inputs);
    out["seconds"] = number(f.seconds);
    return out;
}

Json json_of(const job::Job& job, const forecast::Forecast& forecast) {
    return json_of(job, forecast, speech_of(job));
}

}  // namespace seatwright::batch
