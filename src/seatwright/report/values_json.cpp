#include "seatwright/report/values_json.hpp"

#include "seatwright/report/report.hpp"

namespace seatwright::report {

using nlohmann::ordered_json;

namespace {

std::string_view unit_key(const Part& part) {
    const auto* figure = std::get_if<Figure>(&part.is());
    return figure ? figure->measure->key : std::string_view();
}

ordered_json part_json(const Part& part, const Speech& speech) {
    if (const auto* figure = std::get_if<Figure>(&part.is()))
        return number(figure->value, 1 / figure->measure->key_size);
    if (const auto* key = std::get_if<Key>(&part.is())) return key->path;
    if (const auto* name = std::get_if<std::string>(&part.is())) return *name;
    if (const auto* clause = std::get_if<Sentence>(&part.is()))
        return {{"text", in_words(*clause, speech)}, {"values", values_json(*clause, speech)}};
    ordered_json out = ordered_json::array();
    for (const Part& item : std::get<List>(part.is()).items) out.push_back(part_json(item, speech));
    return out;
}

}  // namespace

ordered_json values_json(const Sentence& sentence, const Speech& speech) {
    ordered_json out = ordered_json::object();
    for (const NamedValue& named : sentence.values()) {
        std::string key(named.name);
        const auto* list = std::get_if<List>(&named.value.is());
        key += unit_key(list && !list->items.empty() ? list->items.front() : named.value);
        out[key] = part_json(named.value, speech);
    }
    return out;
}

}  // namespace seatwright::report
