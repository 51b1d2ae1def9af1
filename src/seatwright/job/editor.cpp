#include "seatwright/job/editor.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <memory>

#include "seatwright/job/toml_text.hpp"

namespace seatwright::job {
namespace {

tl::unexpected<std::string> refuse(std::string text) {
    return tl::unexpected(std::move(text));
}

// `literal` as the value of the one key "value".
tl::expected<toml::table, std::string> read_literal(std::string_view literal) {
    auto one = TomlText::open("value = " + std::string(literal));
    if (!one) return refuse(fmt::format("\"{}\" is not a TOML value", literal));
    if (one->root().size() != 1 || !one->root().contains("value"))
        return refuse(fmt::format("\"{}\" is more than one TOML value", literal));
    return one->root();
}

bool is_plain_key(std::string_view key) {
    const auto path = parse_path(key);
    return path && path->size() == 1;
}

std::string dotted(const Path& path) {
    std::string out;
    for (const auto& part : path) {
        if (part.index) {
            out += fmt::format("[{}]", *part.index);
        } else {
            out += (out.empty() ? "" : ".") + part.key;
        }
    }
    return out;
}

bool has_index(const Path& path) {
    return std::any_of(path.begin(), path.end(), [](const PathPart& p) { return p.index.has_value(); });
}

std::string with_line_end(const TomlText& doc) {
    std::string out = doc.text();
    if (!out.empty() && out.back() != '\n') out += doc.newline();
    return out;
}

// Puts a whole line in at a line's begin.
std::string with_line_at(const TomlText& doc, std::size_t at, const std::string& line) {
    std::string out = doc.text();
    const bool cut_off = at == out.size() && !out.empty() && out.back() != '\n';
    out.insert(at, (cut_off ? std::string(doc.newline()) : "") + line + std::string(doc.newline()));
    return out;
}

// The place after the last entry between the brackets of an inline table or list, and what must part the new
// entry from it.
struct Slot {
    std::size_t at;
    std::string before;
};

Slot slot_in(const TomlText& doc, const toml::node& container) {
    std::optional<std::size_t> last;
    if (const auto* table = container.as_table())
        for (const auto& [key, value] : *table) last = std::max(last.value_or(0), doc.end_of(value));
    if (const auto* array = container.as_array())
        for (const auto& item : *array) last = std::max(last.value_or(0), doc.end_of(item));
    if (last) return {*last, ", "};
    return {doc.span_of(container).begin + 1, " "};
}

// The tree as it must be after the change: the same, but for the value at the path.
void put(toml::table& root, const Path& path, const toml::node& value) {
    toml::node* at = &root;
    for (std::size_t i = 0; i + 1 < path.size(); ++i) {
        if (path[i].index) {
            at = at->as_array()->get(*path[i].index);
        } else {
            auto& table = *at->as_table();
            if (!table.contains(path[i].key)) table.insert(path[i].key, toml::table{});
            at = table.get(path[i].key);
        }
    }
    value.visit([&](const auto& v) {
        if (const auto& last = path.back(); last.index) {
            auto& array = *at->as_array();
            const auto place = array.begin() + static_cast<std::ptrdiff_t>(*last.index);
            array.insert(array.erase(place), v);
        } else {
            at->as_table()->insert_or_assign(last.key, v);
        }
    });
}

bool says(const std::string& text, const toml::table& wanted) {
    const auto doc = TomlText::open(text);
    return doc && doc->root() == wanted;
}

// All places the new key could go, best first; the first that reads back as wanted is taken.
std::vector<std::string> with_new_key(const TomlText& doc, const Path& path, const std::string& literal) {
    const Path parent(path.begin(), path.end() - 1);
    const std::string line = fmt::format("{} = {}", path.back().key, literal);
    const toml::node* node = doc.find(parent);
    std::vector<std::string> out;
    if (node && node->is_table() && !parent.empty() && !TomlText::is_spread(*node)) {
        const auto slot = slot_in(doc, *node);
        std::string text = doc.text();
        text.insert(slot.at, slot.before + line);
        out.push_back(std::move(text));
        return out;
    }
    if (parent.empty()) {
        out.push_back(with_line_at(doc, doc.after_keys(std::nullopt), line));
        return out;
    }
    if (node && node->is_table() && doc.has_header(*node->as_table(), parent)) {
        out.push_back(with_line_at(doc, doc.after_keys(doc.span_of(*node).begin), line));
        return out;
    }
    if (has_index(parent)) return out;
    const std::string nl(doc.newline());
    out.push_back(with_line_end(doc) + nl + "[" + dotted(parent) + "]" + nl + line + nl);
    out.push_back(with_line_at(doc, doc.after_keys(std::nullopt), dotted(path) + " = " + literal));
    return out;
}

// Empty tables and lists mean the same as none.
void prune(toml::table& table) {
    for (auto it = table.begin(); it != table.end();) {
        auto& value = it->second;
        if (auto* inner = value.as_table()) prune(*inner);
        const bool empty = (value.is_table() && value.as_table()->empty()) ||
                           (value.is_array() && value.as_array()->empty());
        it = empty ? table.erase(it) : std::next(it);
    }
}

// An entry between commas: with the comma after it, or else the one before it.
Span with_comma(const std::string& text, Span span) {
    const auto blank = [&](std::size_t i) {
        return text[i] == ' ' || text[i] == '\t' || text[i] == '\n' || text[i] == '\r';
    };
    std::size_t after = span.end;
    while (after < text.size() && blank(after)) ++after;
    if (after < text.size() && text[after] == ',') {
        ++after;
        while (after < text.size() && (text[after] == ' ' || text[after] == '\t')) ++after;
        return {span.begin, after};
    }
    std::size_t before = span.begin;
    while (before > 0 && blank(before - 1)) --before;
    if (before > 0 && text[before - 1] == ',') return {before - 1, span.end};
    return span;
}

// The bytes that go when the node goes.
std::optional<Span> span_to_remove(const TomlText& doc, const Path& path, const toml::node& node) {
    const Path parent(path.begin(), path.end() - 1);
    const toml::node* holder = doc.find(parent);
    if (TomlText::is_spread(node)) {
        const auto* array = node.as_array();
        const std::size_t begin = doc.span_of(array ? array->front() : node).begin;
        return Span{doc.line_begin(begin), doc.line_end(std::max<std::size_t>(doc.end_of(node), 1) - 1)};
    }
    if (holder->is_array()) return with_comma(doc.text(), doc.span_of(node));
    const auto span = doc.key_span_of(*holder->as_table(), path.back().key);
    if (!span) return std::nullopt;
    if (holder->as_table()->is_inline()) return with_comma(doc.text(), *span);
    return Span{doc.line_begin(span->begin), doc.line_end(span->end - 1)};
}

}  // namespace

Edited set_value(std::string_view text, std::string_view path_text, std::string_view literal) {
    const auto path = parse_path(path_text);
    if (!path) return refuse(path.error());
    const auto doc = TomlText::open(text);
    if (!doc) return refuse(doc.error());
    const auto value = read_literal(literal);
    if (!value) return refuse(value.error());
    const toml::node* old = doc->find(*path);
    if (old && TomlText::is_spread(*old))
        return refuse(fmt::format("{} is a table; set one of its keys", path_text));
    std::vector<std::string> tries;
    if (old) {
        const auto span = doc->span_of(*old);
        tries.push_back(doc->text().substr(0, span.begin) + std::string(literal) +
                        doc->text().substr(span.end));
    } else if (path->back().index) {
        return refuse(fmt::format("{} does not exist", path_text));
    } else {
        for (std::size_t n = 1; n < path->size(); ++n) {
            const Path upper(path->begin(), path->begin() + static_cast<std::ptrdiff_t>(n));
            const auto* node = doc->find(upper);
            const bool list_next = (*path)[n].index.has_value();
            if ((node && (list_next ? !node->is_array() : !node->is_table())) ||
                (!node && (list_next || upper.back().index)))
                return refuse(
                    fmt::format("{} does not exist and {} cannot hold it", path_text, dotted(upper)));
        }
        tries = with_new_key(*doc, *path, std::string(literal));
    }
    toml::table wanted = doc->root();
    put(wanted, *path, *value->get("value"));
    for (auto& attempt : tries)
        if (says(attempt, wanted)) return std::move(attempt);
    return refuse(fmt::format("{} cannot be set here without changing more of the text", path_text));
}

Edited append_table(std::string_view text, std::string_view path_text, const Fields& fields) {
    const auto path = parse_path(path_text);
    if (!path) return refuse(path.error());
    if (has_index(*path)) return refuse(fmt::format("{} is no list of tables of the file", path_text));
    const auto doc = TomlText::open(text);
    if (!doc) return refuse(doc.error());
    toml::table entry;
    std::string lines, inline_fields;
    for (const auto& [key, literal] : fields) {
        if (!is_plain_key(key)) return refuse(fmt::format("\"{}\" is not a key", key));
        const auto value = read_literal(literal);
        if (!value) return refuse(value.error());
        if (entry.contains(key)) return refuse(fmt::format("\"{}\" is given twice", key));
        value->get("value")->visit(
            [&, name = std::string_view(key)](const auto& v) { entry.insert(name, v); });
        lines += key + " = " + literal + std::string(doc->newline());
        inline_fields += (inline_fields.empty() ? "" : ", ") + key + " = " + literal;
    }
    const toml::node* old = doc->find(*path);
    if (old && !old->is_array()) return refuse(fmt::format("{} is not a list of tables", path_text));
    std::string out;
    if (!old || TomlText::is_spread(*old)) {
        const std::string nl(doc->newline());
        out =
            with_line_end(*doc) + (doc->text().empty() ? "" : nl) + "[[" + dotted(*path) + "]]" + nl + lines;
    } else {
        const auto slot = slot_in(*doc, *old);
        out = doc->text();
        out.insert(slot.at, slot.before + "{ " + inline_fields + " }");
    }
    toml::table wanted = doc->root();
    toml::array list = old ? *old->as_array() : toml::array{};
    list.push_back(std::move(entry));
    for (std::size_t n = 1; n < path->size(); ++n) {
        const auto* node = doc->find(Path(path->begin(), path->begin() + static_cast<std::ptrdiff_t>(n)));
        if (node && !node->is_table())
            return refuse(fmt::format("{} cannot hold a list of tables", path_text));
    }
    put(wanted, *path, list);
    if (says(out, wanted)) return out;
    return refuse(fmt::format("{} cannot be added to here without changing more of the text", path_text));
}

Edited remove_value(std::string_view text, std::string_view path_text) {
    const auto path = parse_path(path_text);
    if (!path) return refuse(path.error());
    const auto doc = TomlText::open(text);
    if (!doc) return refuse(doc.error());
    const toml::node* node = doc->find(*path);
    if (!node) return refuse(fmt::format("{} does not exist", path_text));
    const auto span = span_to_remove(*doc, *path, *node);
    if (!span) return refuse(fmt::format("{} cannot be found in the text", path_text));
    std::string out = doc->text().substr(0, span->begin) + doc->text().substr(span->end);
    toml::table wanted = doc->root();
    toml::node* holder = &wanted;
    for (std::size_t i = 0; i + 1 < path->size(); ++i)
        holder = (*path)[i].index ? holder->as_array()->get(*(*path)[i].index)
                                  : holder->as_table()->get((*path)[i].key);
    if (const auto& last = path->back(); last.index) {
        holder->as_array()->erase(holder->as_array()->begin() + static_cast<std::ptrdiff_t>(*last.index));
    } else {
        holder->as_table()->erase(last.key);
    }
    prune(wanted);
    const auto after = TomlText::open(out);
    if (!after)
        return refuse(fmt::format("{} cannot be removed without changing more of the text", path_text));
    toml::table have = after->root();
    prune(have);
    if (have != wanted)
        return refuse(fmt::format("{} cannot be removed without changing more of the text", path_text));
    return out;
}

}  // namespace seatwright::job
