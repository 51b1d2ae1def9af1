#include "seatwright/words/in_words.hpp"

#include <fmt/format.h>

#include <stdexcept>

namespace seatwright {

namespace {

// A longer list of names is not read; the number says it. One more than is shown would not shorten it.
constexpr std::size_t names_shown = 7;

std::string joined(const List& list, const Speech& speech) {
    const auto& items = list.items;
    const auto word = [&](const char* id) { return std::string(speech.catalogue->text(id)); };
    const auto between = [&]() -> std::pair<std::string, std::string> {
        switch (list.join) {
            case Join::with_and:
                return {word("list.comma"), word("list.and")};
            case Join::with_or:
                return {word("list.comma"), word("list.or")};
            case Join::either:
                return {word("list.either"), word("list.either")};
            case Join::semicolons:
                return {word("list.semicolon"), word("list.semicolon")};
            case Join::spaces:
                return {" ", " "};
            case Join::nothing:
                return {};
            case Join::commas:
            case Join::names:
                break;
        }
        return {word("list.comma"), word("list.comma")};
    }();
    const std::size_t shown =
        list.join == Join::names && items.size() > names_shown + 1 ? names_shown : items.size();
    std::string out;
    for (std::size_t i = 0; i < shown; ++i) {
        if (i > 0) out += i + 1 == items.size() ? between.second : between.first;
        out += in_words(items[i], speech);
    }
    if (shown < items.size()) out += fmt::format(fmt::runtime(word("list.more")), items.size() - shown);
    return out;
}

bool is_one(const Part& value) {
    if (const auto* figure = std::get_if<Figure>(&value.is())) return figure->value == 1;
    if (const auto* list = std::get_if<List>(&value.is())) return list->items.size() == 1;
    throw std::logic_error("a sentence counts what is neither a number nor a list");
}

}  // namespace

std::string in_words(const Part& value, const Speech& speech) {
    if (const auto* figure = std::get_if<Figure>(&value.is()))
        return written(*figure, speech.unit, speech.on_page() ? Degrees::sign : Degrees::word);
    if (const auto* key = std::get_if<Key>(&value.is()))
        return speech.on_page() ? in_words(speech.name_of(key->path), speech) : key->path;
    if (const auto* name = std::get_if<std::string>(&value.is())) return *name;
    if (const auto* clause = std::get_if<Sentence>(&value.is())) return in_words(*clause, speech);
    return joined(std::get<List>(value.is()), speech);
}

std::string in_words(const Sentence& sentence, const Speech& speech) {
    if (sentence.empty()) return {};
    const std::string_view text =
        speech.on_page() ? speech.catalogue->on_page(sentence.id()) : speech.catalogue->text(sentence.id());
    std::string out;
    std::size_t at = 0;
    while (at < text.size()) {
        const words::Place place = words::next_place(text, at);
        out += text.substr(at, place.from - at);
        at = place.to;
        if (place.from == text.size()) break;
        const Part* named = value_of(sentence, place.name);
        if (named == nullptr)
            throw std::logic_error(fmt::format("{} lacks \"{}\"", sentence.id(), place.name));
        if (place.forms.empty()) {
            out += in_words(*named, speech);
            continue;
        }
        const std::size_t bar = place.forms.find('|');
        out += is_one(*named) ? place.forms.substr(0, bar) : place.forms.substr(bar + 1);
    }
    return out;
}

std::vector<std::string> in_words(const std::vector<Sentence>& sentences, const Speech& speech) {
    std::vector<std::string> out;
    out.reserve(sentences.size());
    for (const Sentence& sentence : sentences) out.push_back(in_words(sentence, speech));
    return out;
}

}  // namespace seatwright
