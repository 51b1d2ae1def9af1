// A TOML 1.0 text as a tree that loses nothing: every value knows its bytes, comments and spacing stay in the
// text, and a text at fault has a tree too, without what could not be read.
//
//     const auto document = toml::Document::parse(text);
//     for (const auto& wrong : document.faults()) …            // all of them, each with its place
//     const auto width = document.root().find("seat").find("width");
//     if (const auto number = width.number()) …
//     for (const auto touch : document.root().find("touch").items()) … touch.find("x") …
//
// Reading costs one pass. A document is never changed; edit.hpp makes a new one of it.
#pragma once

#include <cstddef>
#include <cstdint>
#include <iterator>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "seatwright/toml/fault.hpp"
#include "seatwright/toml/words.hpp"

namespace seatwright::toml {

struct Tree;
class Items;

enum class Kind {
    absent,   // there is no such key or entry
    nothing,  // it is there, but what stands there could not be read; a fault says why
    text,
    integer,
    number,  // with a point or an exponent, inf, nan
    flag,
    moment,  // a date, a time, or both
    list,    // […] and all [[x]] of a name
    table    // {…}, [x], and what dotted keys and headers of tables in it make
};

// First byte and the byte after the last.
struct Span {
    std::size_t begin = 0, end = 0;
};

// One value of a document: a view, cheap to copy, good while the document or a copy of it lives.
class Value {
  public:
    Value() = default;  // absent

    Kind kind() const;
    explicit operator bool() const { return kind() != Kind::absent; }

    // What it says, or nothing if it is of another kind. Whole numbers are numbers too.
    std::optional<std::string> text() const;
    std::optional<std::int64_t> integer() const;
    std::optional<double> number() const;
    std::optional<bool> flag() const;
    std::optional<Moment> moment() const;

    // Entries of a list, or values of a table in the order in which their names first stand in the text; none
    // for other kinds.
    Items items() const;
    // How many. Cost: as many steps.
    std::size_t size() const;
    // The value of that name in a table, or that entry of a list; absent if there is none. Cost: as many
    // steps.
    Value find(std::string_view name) const;
    Value at(std::size_t index) const;
    // The name of a value of a table; empty for others.
    std::string name() const;

    // Bytes of the value as written; of a table's header, and of the first one of a list of tables; of the
    // names up to its own in the key that made a dotted table.
    Span span() const;
    std::string_view written() const;
    // First byte of the dotted key it is written under, or of that in its header; of the value if it has
    // none.
    std::size_t key_begin() const;
    // The byte after all that is written of it, tables in it too. Cost: all values in it.
    std::size_t end_of_all() const;
    // Lines of the two, from 1.
    int line() const;
    int key_line() const;

    // A table that has a header of its own, or the root.
    bool has_header() const;
    // A table or list that is written in brackets or braces, in one place.
    bool in_brackets() const;
    // A table that is there because of a dotted key.
    bool is_dotted() const;

    bool same_place(const Value& other) const { return tree_ == other.tree_ && node_ == other.node_; }

  private:
    friend class Document;
    friend class Items;
    static constexpr std::uint32_t no_node = 0xFFFFFFFF;

    Value(const Tree* tree, std::uint32_t node) : tree_(tree), node_(node) {}
    // An entry of a list that has no node of its own, by its first byte.
    static Value word_at(const Tree* tree, std::size_t begin);

    const Tree* tree_ = nullptr;
    std::uint32_t node_ = no_node;
    Span word_{};  // of an entry without a node
};

// The items of a list or table: `for (const auto item : value.items())`.
class Items {
  public:
    class Iterator {
      public:
        using iterator_category = std::input_iterator_tag;
        using value_type = Value;
        using difference_type = std::ptrdiff_t;
        using pointer = const Value*;
        using reference = const Value&;

        const Value& operator*() const { return now_; }
        const Value* operator->() const { return &now_; }
        Iterator& operator++();
        bool operator==(const Iterator& other) const { return left_ == other.left_; }

      private:
        friend class Items;
        void go_to_word(std::size_t at);
        Value now_;
        std::uint32_t last_ = 0;  // node after which there is none
        bool left_ = false;
    };
    Iterator begin() const;
    Iterator end() const { return {}; }

  private:
    friend class Value;
    explicit Items(const Value& of) : of_(of) {}
    Value of_;
};

// A part of the text: what stands before the first header, or a header and what follows up to the next.
struct Section {
    Span span;
    Value table;  // that its keys belong to; hangs below no other if its header is at fault
    // Names in its header, decoded; none before the first header or if the header is at fault.
    std::vector<std::string> path;
    bool of_list = false;  // [[…]]
};

struct Statement {
    Span span;          // from its key to the end of its value
    std::string first;  // the first name of its dotted key
};

class Document {
  public:
    // Never fails: what is wrong stands in faults(). Linear in the text; memory at most 6 times the text of a
    // job or shelf, 13 times that of any good text, 16 times that of one at fault (docs/toml.md).
    static Document parse(std::string text, const Rules& rules = {});
    // How many texts this process has parsed: for tests that hold what need not be read again.
    static std::size_t parsed_so_far();

    const std::string& text() const;
    const Rules& rules() const;
    Value root() const;

    // The first max_faults in order of the text, and how many more there are.
    const std::vector<Wrong>& faults() const;
    std::size_t more_faults() const;
    bool is_good() const { return faults().empty(); }
    // Whether a fault before it, a bracket or long text not closed, leaves open which table that line's keys
    // belong to.
    bool in_doubt(int line) const;

    // Sections in order of the text. Cost: their number.
    std::vector<Section> sections() const;
    // Statements of a section, in order of the text.
    std::vector<Statement> statements(const Section& section) const;

    // The line around a byte: its first byte and the byte after its line end.
    Span line_around(std::size_t byte) const;
    Place place_of(std::size_t byte) const;
    // "\r\n" if the text has one, else "\n".
    std::string_view newline() const;

  private:
    std::shared_ptr<const Tree> tree_;
};

}  // namespace seatwright::toml
