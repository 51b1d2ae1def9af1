#include <nlohmann/json.hpp>

#include "seatwright/report/report.hpp"

namespace seatwright::report {

using nlohmann::ordered_json;

ordered_json json_of(const job::Job& job, const std::vector<plan::WalkStep>& walk, const Speech& speech) {
    ordered_json list = ordered_json::array();
    const auto id = [&](std::size_t valve) { return job.head.valves.at(valve).id; };
    for (const plan::WalkStep& step : walk) {
        ordered_json valves = ordered_json::array();
        for (const std::size_t valve : step.valves) valves.push_back(id(valve));
        list.push_back({{"id", step.id},
                        {"kind", plan::word_of(step.kind)},
                        {"run", step.run},
                        {"setup", step.setup},
                        {"words", in_words(step.words, speech)},
                        {"mark", in_words(step.mark, speech)},
                        {"begins", step.begins},
                        {"done", step.done},
                        {"file", step.file.empty() ? ordered_json(nullptr) : ordered_json(step.file)},
                        {"valves", std::move(valves)},
                        {"on", step.on ? ordered_json(id(*step.on)) : ordered_json(nullptr)},
                        {"ways", in_words(step.ways, speech)}});
    }
    return list;
}

}  // namespace seatwright::report
