#include <nlohmann/json.hpp>

#include "seatwright/report/members.hpp"
#include "seatwright/report/report.hpp"

namespace seatwright::report {

namespace {

// The same of whichever head: "{head}" where the head's name stands.
Sentence of_any_head(const Sentence& of) {
    std::vector<NamedValue> values = of.values();
    for (NamedValue& named : values)
        if (named.name == "head") named.value = "{head}";
    return {of.id(), std::move(values)};
}

}  // namespace

JsonText text_of(const job::Job& job, const std::vector<plan::WalkStep>& walk, const Speech& speech) {
    JsonText list = JsonText::array();
    const auto id = [&](std::size_t valve) { return job.head.valves.at(valve).id; };
    for (const plan::WalkStep& step : walk) {
        JsonText valves = JsonText::array();
        for (const std::size_t valve : step.valves) valves.push_back(id(valve));
        JsonText said{{"id", step.id},
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
                      {"ways", in_words(step.ways, speech)}};
        // While a page has not yet asked for the head at hand, it shows the steps of another.
        if (speech.on_page()) said["words_of_any"] = in_words(of_any_head(step.words), speech);
        // Whether its seats pass is known to the page, by what is not sent yet as well.
        if (speech.on_page() && !step.against.empty()) said["words_against"] = in_words(step.against, speech);
        list.push_back(said);
    }
    return list;
}

nlohmann::ordered_json json_of(const job::Job& job, const std::vector<plan::WalkStep>& walk,
                               const Speech& speech) {
    return nlohmann::ordered_json::parse(text_of(job, walk, speech).text());
}

}  // namespace seatwright::report
