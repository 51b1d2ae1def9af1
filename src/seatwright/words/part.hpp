// What stands in a sentence: a figure, a name, a key of the job, another sentence as a clause of it, or a
// list of these.
#pragma once

#include <concepts>
#include <string>
#include <string_view>
#include <utility>
#include <variant>
#include <vector>

#include "seatwright/words/figure.hpp"

namespace seatwright {

struct NamedValue;

// A sentence not yet in words: which one it is and what stands in it. Words are made of it at the rim
// (in_words.hpp), in a unit and a language. Made by sentence<"…">(…) alone (sentence.hpp): the names it is
// made of are held against the catalogue when it is compiled.
class Sentence {
  public:
    Sentence() = default;  // says nothing
    Sentence(std::string_view id, std::vector<NamedValue> values);

    // "hold.slip"; empty if it says nothing.
    std::string_view id() const { return id_; }
    const std::vector<NamedValue>& values() const { return values_; }
    bool empty() const { return id_.empty(); }
    friend bool operator==(const Sentence&, const Sentence&);

  private:
    std::string_view id_;  // of the catalogue: stands as long as the program
    std::vector<NamedValue> values_;
};

// How the parts of a list are joined; the words between them are the language's.
enum class Join {
    commas,      // "a, b, c"
    with_and,    // "a, b and c"
    with_or,     // "a, b or c"
    either,      // "a, or b": clauses with commas of their own
    semicolons,  // "a; b; c"
    spaces,      // one sentence behind the other
    nothing,     // a clause that brings its own comma
    names        // "a, b, c"; past eight "a, …, g and 12 more"
};

// A key of the job, or a place in it: "depth.block", "reading.first.6.3I.depth". A page calls it by its
// label.
struct Key {
    std::string path;
    friend bool operator==(const Key&, const Key&) = default;
};

class Part;

struct List {
    Join join = Join::commas;
    std::vector<Part> items;
    friend bool operator==(const List&, const List&);
};

class Part {
  public:
    Part() = default;             // an empty name
    Part(Figure figure);          // NOLINT(google-explicit-constructor)
    Part(Key key);                // NOLINT(google-explicit-constructor)
    Part(Sentence clause);        // NOLINT(google-explicit-constructor)
    Part(List list);              // NOLINT(google-explicit-constructor)
    Part(std::string name);       // NOLINT(google-explicit-constructor)
    Part(std::string_view name);  // NOLINT(google-explicit-constructor)
    Part(const char* name);       // NOLINT(google-explicit-constructor)
    // A count. A number that is none says how it is written: as_length, as_number, …
    template <std::integral N>
    Part(N count);  // NOLINT(google-explicit-constructor)
    Part(bool) = delete;
    Part(char) = delete;  // a letter is a name, not a count
    Part(double) = delete;

    const auto& is() const { return is_; }
    friend bool operator==(const Part&, const Part&);

  private:
    std::variant<std::string, Figure, Key, Sentence, List> is_;
};

struct NamedValue {
    std::string_view name;
    Part value;
    friend bool operator==(const NamedValue&, const NamedValue&) = default;
};

// Only here is all known that a part may hold.
inline Part::Part(Figure figure) : is_(figure) {}
inline Part::Part(Key key) : is_(std::move(key)) {}
inline Part::Part(Sentence clause) : is_(std::move(clause)) {}
inline Part::Part(List list) : is_(std::move(list)) {}
inline Part::Part(std::string name) : is_(std::move(name)) {}
inline Part::Part(std::string_view name) : is_(std::string(name)) {}
inline Part::Part(const char* name) : is_(std::string(name)) {}
template <std::integral N>
Part::Part(N count) : is_(as_number(static_cast<double>(count))) {}
inline bool operator==(const Part& a, const Part& b) {
    return a.is_ == b.is_;
}

inline bool operator==(const List& a, const List& b) {
    return a.join == b.join && a.items == b.items;
}
inline bool operator==(const Sentence& a, const Sentence& b) {
    return a.id_ == b.id_ && a.values_ == b.values_;
}

// What stands in a sentence under a name ("head"); null where it has no such value.
const Part* value_of(const Sentence& sentence, std::string_view name);
// Names as a list.
List list_of(const std::vector<std::string>& names, Join join = Join::names);
List list_of(const std::vector<Sentence>& clauses, Join join);
// A key of the job, where a sentence is wanted: "depth.block".
Sentence the_key(std::string key);
// The key, where a sentence says nothing else; null where it says more.
const Key* key_alone(const Sentence& sentence);
// A text as it stands, where a sentence is wanted: what somebody typed.
Sentence as_it_stands(std::string text);
// A list as a sentence of its own.
Sentence row(List list);
// Sentences said one behind the other, or as clauses of one with semicolons between.
Sentence one_after_other(std::vector<Sentence> sentences);
Sentence clauses(std::vector<Sentence> sentences);

}  // namespace seatwright
