// Any bytes as TOML: the text is kept, every place is in it, what can be read is read as another program
// reads it, and an edit changes what it was asked to.
#include <algorithm>
#include <cstdint>
#include <string>

#include "seatwright/base/fault.hpp"
#include "seatwright/toml/edit.hpp"
#include "seatwright/toml/path.hpp"
#include "toml/other_opinion.hpp"

namespace {

using namespace seatwright;
using toml::Kind;
using toml::Value;

void check_faults(const toml::Document& document) {
    std::size_t last = 0;
    for (const auto& wrong : document.faults()) {
        require(!wrong.text.empty() && wrong.at.byte >= last, "faults say something, in order");
        require(wrong.at.byte <= document.text().size(), "a fault is in the text");
        last = wrong.at.byte;
    }
}

// A path of plain names to some value, by the numbers of a seed.
std::string path_to(const Value& value, std::size_t seed) {
    const std::size_t size = value.size();
    if (size == 0) return "";
    std::size_t index = seed % size;
    for (const auto& item : value.items())
        if (index-- == 0) {
            const bool of_list = value.kind() == Kind::list;
            const auto plain = toml::parse_path(item.name());
            if (!of_list && (!plain || plain->size() != 1)) return "";
            const std::string name = of_list ? "[" + std::to_string(seed % size) + "]" : "." + item.name();
            return name + path_to(item, seed / size);
        }
    return "";
}

void check_values(const toml::Document& document, const Value& value) {
    const auto span = value.span();
    require(span.begin <= span.end && span.end <= document.text().size(), "a value is in the text");
    require(value.end_of_all() >= span.end || value.kind() == Kind::nothing, "a value ends behind itself");
    (void)value.text();
    (void)value.number();
    for (const auto& item : value.items()) check_values(document, item);
}

void check_edits(const toml::Document& document, std::size_t seed) {
    std::string path = path_to(document.root(), seed);
    if (!path.empty()) path.erase(0, 1);
    const auto parsed = toml::parse_path(path);
    if (!parsed) return;
    const Value old = toml::find(document.root(), *parsed);
    require(static_cast<bool>(old), "a path leads to its value");
    if (const auto edited = toml::set_value(document, path, "0.25"))
        require(toml::find(edited->root(), *parsed).number() == 0.25, "it was set");
    if (const auto edited = toml::remove_value(document, path))
        require(edited->text().size() < document.text().size(), "it was removed");
    (void)toml::set_value(document, path + ".more", "[1]");
    (void)toml::append_table(document, path, {{"more", "1"}});
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    const std::string text(reinterpret_cast<const char*>(data), size);
    const auto document = toml::Document::parse(text);
    require(document.text() == text, "the text is kept");
    check_faults(document);
    check_values(document, document.root());
    for (const auto& section : document.sections()) (void)document.statements(section);
    const auto& faults = document.faults();
    const bool limit = std::any_of(faults.begin(), faults.end(), [](const toml::Wrong& wrong) {
        return wrong.cause == toml::Cause::limit;
    });
    const auto other = toml::test::other_opinion(document);
    if (!limit && !other.undefined) {
        require(document.is_good() == other.accepts, "both take a text or both refuse it");
        require(!other.accepts || other.said.empty(), other.said);
    }
    if (document.is_good()) check_edits(document, size * 7919);
    return 0;
}
