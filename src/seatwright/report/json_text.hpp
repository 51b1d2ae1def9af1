// JSON written as text where it is made: of a result that is sent, a tree of values would be built and taken
// down for nothing. The text is, to the last letter, that of nlohmann::ordered_json's dump().
#pragma once

#include <concepts>
#include <cstddef>
#include <initializer_list>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "seatwright/words/in_words.hpp"
#include "seatwright/words/notice.hpp"

namespace seatwright::report {

class JsonText {
  public:
    struct Member;
    class Place;

    JsonText() : text_("null") {}
    JsonText(std::nullptr_t) : JsonText() {}                          // NOLINT(google-explicit-constructor)
    JsonText(const char* text) : JsonText(std::string_view(text)) {}  // NOLINT(google-explicit-constructor)
    JsonText(const std::string& text)                                 // NOLINT(google-explicit-constructor)
        : JsonText(std::string_view(text)) {}
    JsonText(std::string_view text);  // NOLINT(google-explicit-constructor): not UTF-8: that is marked
    template <std::integral Whole>
    JsonText(Whole whole) {  // NOLINT(google-explicit-constructor)
        if constexpr (std::same_as<Whole, bool>)
            text_ = whole ? "true" : "false";
        else
            text_ = std::to_string(whole);
    }
    JsonText(double) = delete;  // as_json
    template <class Thing>
    JsonText(const std::vector<Thing>& things) : text_("[]") {  // NOLINT(google-explicit-constructor)
        for (const Thing& thing : things) push_back(thing);
    }
    JsonText(std::initializer_list<Member> members);  // an object

    // Of what is JSON text already.
    static JsonText of(std::string_view text) {
        JsonText out;
        out.text_ = text;
        return out;
    }
    static JsonText array() { return of("[]"); }
    static JsonText array(std::initializer_list<JsonText> things);
    static JsonText number(double value);                        // finite, or null
    static JsonText numbers(std::initializer_list<double> all);  // an array of such
    static JsonText object() { return of("{}"); }

    void push_back(const JsonText& thing);
    // Of an object: a new key behind the others, or its last one.
    Place operator[](std::string_view key);
    // Another object's keys behind these.
    void join(const JsonText& object);

    const std::string& text() const& { return text_; }
    std::string text() && { return std::move(text_); }

  private:
    void add(std::size_t end, const JsonText& thing);
    std::string text_;
    std::size_t last_ = 0, value_ = 0;  // where the last key's name and its value stand
};

struct JsonText::Member {
    std::string_view key;
    JsonText value;
};

class JsonText::Place {
  public:
    explicit Place(JsonText& object) : object_(object) {}
    void operator=(const JsonText& value);  // NOLINT(misc-unconventional-assign-operator)
    void push_back(const JsonText& thing);  // its value is an array

  private:
    JsonText& object_;
};

// A number: finite, or null.
JsonText as_json(std::optional<double> value, double scale = 1);

// An object by its keys, each as text.
class JsonMembers {
  public:
    JsonText& operator[](std::string_view key);  // a new one, or a known one
    const std::vector<std::pair<std::string, JsonText>>& all() const { return all_; }
    void join(JsonMembers more);  // behind these
    std::vector<std::pair<std::string, std::string>> texts() &&;

  private:
    std::vector<std::pair<std::string, JsonText>> all_;
};
nlohmann::ordered_json json_of(const JsonMembers& members);

// What stands in a sentence, as values_json.hpp says.
JsonText values_text(const Sentence& sentence, const Speech& speech);
JsonText text_of(const Warning& warning, const Speech& speech);

}  // namespace seatwright::report
