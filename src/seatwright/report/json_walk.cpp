#include <nlohmann/json.hpp>

#include "seatwright/report/members.hpp"
#include "seatwright/report/report.hpp"

namespace seatwright::report {

JsonText text_of(const job::Job& job, const std::vector<plan::WalkStep>& walk, const Speech& speech) {
    JsonText list = JsonText::array();
    const auto id = [&](std::size_t valve) { return job.head.valves.at(valve).id; };
    for (const plan::WalkStep& step : walk) {
        JsonText valves = JsonText::array();
        for (const std::size_t valve : step.valves) valves.push_back(id(valve));
        list.push_back({{"id", step.id},
                        {"kind", plan::word_of(step.kind)},
                        {"run", step.run},
                        {"setup", step.setup},
                        {"words", in_words(step.words, speech)},
                        {"mark", in_words(step.mark, speech)},
                        {"begins", step.begins},
                        {"done", step.done},
                        {"file", step.file.empty() ? JsonText(nullptr) : JsonText(step.file)},
                        {"moves", step.moves.empty() ? JsonText(nullptr) : JsonText(step.moves)},
                        {"valves", std::move(valves)},
                        {"on", step.on ? JsonText(id(*step.on)) : JsonText(nullptr)},
                        {"ways", in_words(step.ways, speech)}});
    }
    return list;
}

nlohmann::ordered_json json_of(const job::Job& job, const std::vector<plan::WalkStep>& walk,
                               const Speech& speech) {
    return nlohmann::ordered_json::parse(text_of(job, walk, speech).text());
}

}  // namespace seatwright::report
