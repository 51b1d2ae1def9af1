#include "seatwright/words/part.hpp"

#include "seatwright/words/english_lists.hpp"
#include "seatwright/words/sentence.hpp"

namespace seatwright {

Sentence::Sentence(std::string_view id, std::vector<NamedValue> values)
    : id_(id), values_(std::move(values)) {}

namespace {

template <class T>
List listed(const std::vector<T>& parts, Join join) {
    List out{join, {}};
    out.items.reserve(parts.size());
    for (const T& part : parts) out.items.emplace_back(part);
    return out;
}

}  // namespace

const Part* value_of(const Sentence& sentence, std::string_view name) {
    for (const NamedValue& value : sentence.values())
        if (value.name == name) return &value.value;
    return nullptr;
}

List list_of(const std::vector<std::string>& names, Join join) {
    return listed(names, join);
}

List list_of(const std::vector<Sentence>& clauses, Join join) {
    return listed(clauses, join);
}

Sentence the_key(std::string key) {
    return words::sentence<"key">("key"_is = Key{std::move(key)});
}

const Key* key_alone(const Sentence& sentence) {
    if (sentence.values().size() != 1 || sentence.id() != "list.key") return nullptr;
    return std::get_if<Key>(&sentence.values().front().value.is());
}

Sentence as_it_stands(std::string text) {
    return words::sentence<"text">("text"_is = std::move(text));
}

Sentence row(List list) {
    return words::sentence<"row">("parts"_is = std::move(list));
}

Sentence one_after_other(std::vector<Sentence> sentences) {
    if (sentences.size() == 1) return std::move(sentences.front());
    return row(list_of(sentences, Join::spaces));
}

Sentence clauses(std::vector<Sentence> sentences) {
    if (sentences.size() == 1) return std::move(sentences.front());
    return row(list_of(sentences, Join::semicolons));
}

}  // namespace seatwright
