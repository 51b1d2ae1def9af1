#include "seatwright/report/json_text.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <nlohmann/json.hpp>

#include "seatwright/words/english_report.hpp"

namespace seatwright::report {

namespace {

// Stands in a JSON text as it is.
bool is_plain(std::string_view text) {
    return std::all_of(text.begin(), text.end(), [](char c) {
        return static_cast<unsigned char>(c) >= 0x20 && static_cast<unsigned char>(c) < 0x80 && c != '"' &&
               c != '\\';
    });
}

void add_number(std::string& text, double value) {
    if (!std::isfinite(value)) {
        text += "null";
        return;
    }
    std::array<char, 64> digits{};
    // No minus before a zero.
    const char* const end =
        nlohmann::detail::to_chars(digits.data(), digits.data() + digits.size(), value == 0 ? 0.0 : value);
    text.append(digits.data(), static_cast<std::size_t>(end - digits.data()));
}

}  // namespace

JsonText::JsonText(std::string_view text) {
    if (!is_plain(text)) {
        text_ = nlohmann::json(text).dump(-1, ' ', false, nlohmann::json::error_handler_t::replace);
        return;
    }
    text_.reserve(text.size() + 2);
    ((text_ += '"') += text) += '"';
}

JsonText::JsonText(std::initializer_list<Member> members) {
    std::size_t size = 2;
    for (const Member& member : members) size += member.key.size() + member.value.text_.size() + 4;
    text_.reserve(size);
    text_ = '{';
    for (const Member& member : members) {
        text_ += text_.size() > 1 ? ",\"" : "\"";
        last_ = text_.size();
        (text_ += member.key) += "\":";
        value_ = text_.size();
        text_ += member.value.text_;
    }
    text_ += '}';
}

JsonText JsonText::array(std::initializer_list<JsonText> things) {
    JsonText out = array();
    for (const JsonText& thing : things) out.push_back(thing);
    return out;
}

// Into the array that ends so.
void JsonText::add(std::size_t end, const JsonText& thing) {
    text_.resize(end);
    if (text_.back() != '[') text_ += ',';
    (text_ += thing.text_) += ']';
}

void JsonText::push_back(const JsonText& thing) {
    add(text_.size() - 1, thing);
}

JsonText::Place JsonText::operator[](std::string_view key) {
    const bool is_last = value_ > 0 && value_ - last_ == key.size() + 2 &&
                         std::string_view(text_).substr(last_, key.size()) == key;
    if (is_last) return Place(*this);
    text_.pop_back();
    if (text_.size() > 1) text_ += ',';
    text_ += '"';
    last_ = text_.size();
    (text_ += key) += "\":";
    value_ = text_.size();
    text_ += "null}";
    return Place(*this);
}

void JsonText::join(const JsonText& object) {
    if (object.text_.size() <= 2) return;
    text_.pop_back();
    if (text_.size() > 1) text_ += ',';
    text_.append(object.text_, 1);
    value_ = 0;
}

void JsonText::Place::operator=(const JsonText& value) {
    object_.text_.resize(object_.value_);
    (object_.text_ += value.text_) += '}';
}

void JsonText::Place::push_back(const JsonText& thing) {
    object_.add(object_.text_.size() - 2, thing);
    object_.text_ += '}';
}

JsonText as_json(std::optional<double> value, double scale) {
    return value ? JsonText::number(*value * scale) : JsonText();
}

JsonText JsonText::number(double value) {
    JsonText out;
    out.text_.clear();
    add_number(out.text_, value);
    return out;
}

JsonText JsonText::numbers(std::initializer_list<double> all) {
    JsonText out = array();
    out.text_.pop_back();
    for (const double value : all) {
        if (out.text_.size() > 1) out.text_ += ',';
        add_number(out.text_, value);
    }
    out.text_ += ']';
    return out;
}

JsonText& JsonMembers::operator[](std::string_view key) {
    const auto at =
        std::find_if(all_.begin(), all_.end(), [&](const auto& member) { return member.first == key; });
    return at == all_.end() ? all_.emplace_back(key, JsonText()).second : at->second;
}

void JsonMembers::join(JsonMembers more) {
    for (auto& [key, value] : more.all_) (*this)[key] = std::move(value);
}

std::vector<std::pair<std::string, std::string>> JsonMembers::texts() && {
    std::vector<std::pair<std::string, std::string>> out;
    out.reserve(all_.size());
    for (auto& [key, value] : all_) out.emplace_back(std::move(key), std::move(value).text());
    return out;
}

nlohmann::ordered_json json_of(const JsonMembers& members) {
    auto out = nlohmann::ordered_json::object();
    for (const auto& [key, value] : members.all()) out[key] = nlohmann::ordered_json::parse(value.text());
    return out;
}

namespace {

std::string_view unit_key(const Part& part) {
    const auto* figure = std::get_if<Figure>(&part.is());
    return figure ? figure->measure->key : std::string_view();
}

JsonText part_text(const Part& part, const Speech& speech) {
    if (const auto* figure = std::get_if<Figure>(&part.is()))
        return as_json(figure->value, 1 / figure->measure->key_size);
    if (const auto* key = std::get_if<Key>(&part.is())) return key->path;
    if (const auto* name = std::get_if<std::string>(&part.is())) return *name;
    if (const auto* clause = std::get_if<Sentence>(&part.is()))
        return {{"text", in_words(*clause, speech)}, {"values", values_text(*clause, speech)}};
    JsonText out = JsonText::array();
    for (const Part& item : std::get<List>(part.is()).items) out.push_back(part_text(item, speech));
    return out;
}

}  // namespace

JsonText values_text(const Sentence& sentence, const Speech& speech) {
    JsonText out = JsonText::object();
    for (const NamedValue& named : sentence.values()) {
        std::string key(named.name);
        const auto* list = std::get_if<List>(&named.value.is());
        key += unit_key(list && !list->items.empty() ? list->items.front() : named.value);
        out[key] = part_text(named.value, speech);
    }
    return out;
}

JsonText text_of(const Warning& warning, const Speech& speech) {
    JsonText out{{"stage", warning.stage},
                 {"code", warning.code},
                 {"valve", warning.valve ? JsonText(*warning.valve) : JsonText()},
                 {"text", in_words(warning.text, speech)},
                 {"values", values_text(warning.text, speech)},
                 {"blocking", warning.severity == Severity::blocking}};
    if (!speech.on_page()) return out;
    // A page on which the head is named already says it no second time.
    const Part* head = value_of(warning.text, "head");
    out["named"] =
        head == nullptr ? JsonText() : JsonText(in_words(sentence<"head-of">("head"_is = *head), speech));
    return out;
}

}  // namespace seatwright::report
