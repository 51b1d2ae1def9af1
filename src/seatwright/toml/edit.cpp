#include "seatwright/toml/edit.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "seatwright/toml/compare.hpp"
#include "seatwright/toml/path.hpp"
#include "seatwright/toml/tree.hpp"

namespace seatwright::toml {
namespace {

using How = Difference::How;

tl::unexpected<std::string> refuse(std::string text) {
    return tl::unexpected(std::move(text));
}

// Bytes that go, and what comes in their place.
struct Change {
    Span span;
    std::string text{};
};

Document changed(const Document& document, const Change& change) {
    std::string out = document.text();
    out.replace(change.span.begin, change.span.end - change.span.begin, change.text);
    return Document::parse(std::move(out), document.rules());
}

// The first of the changes after which the document says what is wanted, and nothing else has changed.
Edited first_good(const Document& document, const std::vector<Change>& changes, const Difference& wanted,
                  const char* refusal) {
    for (const auto& change : changes)
        if (auto after = changed(document, change);
            after.is_good() && differs_by(document.root(), after.root(), wanted))
            return after;
    return refuse(fmt::format("{} {} without changing more of the text", to_text(wanted.path), refusal));
}

std::string first_fault(const Document& document) {
    const Wrong& wrong = document.faults().front();
    return fmt::format("line {}: {}", wrong.at.line, wrong.text);
}

// `literal` as the value of the one key "value".
tl::expected<Document, std::string> read_literal(std::string_view literal, const Rules& rules) {
    auto one = Document::parse("value = " + std::string(literal), rules);
    if (!one.is_good()) return refuse(fmt::format("\"{}\" is not a TOML value", literal));
    if (one.root().size() != 1 || !one.root().find("value"))
        return refuse(fmt::format("\"{}\" is more than one TOML value", literal));
    return one;
}

bool is_plain_key(std::string_view key) {
    const auto path = parse_path(key);
    return path && path->size() == 1;
}

bool has_index(const Path& path) {
    return std::any_of(path.begin(), path.end(), [](const PathPart& p) { return p.index.has_value(); });
}

// A table or list that is not written in one place.
bool is_spread(const Value& value) {
    return (value.kind() == Kind::table || value.kind() == Kind::list) && !value.in_brackets();
}

// Lines put in at a line's begin.
Change lines_at(const Document& document, std::size_t at, const std::string& lines) {
    const std::string& text = document.text();
    const bool cut_off = at == text.size() && !text.empty() && text.back() != '\n';
    return {{at, at}, (cut_off ? std::string(document.newline()) : "") + lines};
}

// After the last entry between the brackets of a table or list, with what parts the new entry from it.
Change entry_in(const Value& holder, const std::string& entry) {
    std::optional<std::size_t> last;
    for (const auto& item : holder.items()) last = std::max(last.value_or(0), item.end_of_all());
    const std::size_t at = last.value_or(holder.span().begin + 1);
    return {{at, at}, (last ? ", " : " ") + entry};
}

// Where a further key of the section goes that a table's header opens, or of the file before the first
// header.
std::size_t after_keys(const Document& document, const Value& table) {
    const auto sections = document.sections();
    const auto found = std::find_if(sections.begin(), sections.end(),
                                    [&](const Section& s) { return s.table.same_place(table); });
    const auto statements = document.statements(*found);
    if (!statements.empty()) return document.line_around(statements.back().span.end - 1).end;
    if (found != sections.begin()) return document.line_around(table.span().begin).end;
    return found->span.end;
}

// A further dotted key in the section where a dotted table begins.
Change dotted_beside(const Document& document, const Path& path, const Value& holder,
                     std::string_view literal) {
    const auto sections = document.sections();
    const auto section = std::find_if(sections.begin(), sections.end(),
                                      [&](const Section& s) { return holder.key_begin() < s.span.end; });
    std::size_t names = section->path.size(), first = 0;
    for (; names > 0 || path[first].index; ++first) names -= path[first].index ? 0 : 1;
    const Path rest(path.begin() + static_cast<std::ptrdiff_t>(first), path.end());
    return lines_at(document, after_keys(document, section->table),
                    fmt::format("{} = {}{}", to_text(rest), literal, document.newline()));
}

// All places the new key could go, best first.
std::vector<Change> with_new_key(const Document& document, const Path& path, std::string_view literal) {
    const Path parent(path.begin(), path.end() - 1);
    const std::string pair = fmt::format("{} = {}", path.back().key, literal);
    const std::string nl(document.newline());
    const Value holder = find(document.root(), parent);
    if (holder.in_brackets()) return {entry_in(holder, pair)};
    if (holder.has_header()) return {lines_at(document, after_keys(document, holder), pair + nl)};
    std::vector<Change> out;
    if (holder.is_dotted()) out.push_back(dotted_beside(document, path, holder, literal));
    if (has_index(parent)) return out;
    const std::string header = fmt::format("{0}[{1}]{0}{2}{0}", nl, to_text(parent), pair);
    const std::string dotted = fmt::format("{} = {}{}", to_text(path), literal, nl);
    out.push_back(lines_at(document, document.text().size(), header));
    out.push_back(lines_at(document, after_keys(document, document.root()), dotted));
    return out;
}

// An entry between commas: with the comma after it, or else the one before it.
Span with_comma(const std::string& text, Span span) {
    const std::size_t after = std::min(text.find_first_not_of(" \t\r\n", span.end), text.size());
    if (after < text.size() && text[after] == ',')
        return {span.begin, std::min(text.find_first_not_of(" \t", after + 1), text.size())};
    const std::size_t before = text.find_last_not_of(" \t\r\n", span.begin - 1);
    if (before != std::string::npos && text[before] == ',') return {before, span.end};
    return span;
}

// The bytes that go when the value goes.
Span span_to_remove(const Document& document, const Value& holder, const Value& value) {
    const auto lines = [&](std::size_t begin, std::size_t end) {
        return Span{document.line_around(begin).begin,
                    document.line_around(std::max<std::size_t>(end, 1) - 1).end};
    };
    if (is_spread(value)) return lines(value.span().begin, value.end_of_all());
    if (holder.kind() == Kind::list) return with_comma(document.text(), value.span());
    const Span pair{value.key_begin(), value.span().end};
    return holder.in_brackets() ? with_comma(document.text(), pair) : lines(pair.begin, pair.end);
}

// Why nothing can be put at a path where nothing is; empty if it can.
std::string why_not_there(const Document& document, const Path& path) {
    if (path.back().index) return fmt::format("{} does not exist", to_text(path));
    for (std::size_t n = 1; n < path.size(); ++n) {
        const Path upper(path.begin(), path.begin() + static_cast<std::ptrdiff_t>(n));
        const Value there = find(document.root(), upper);
        const bool list_next = path[n].index.has_value();
        const bool fits = there ? there.kind() == (list_next ? Kind::list : Kind::table)
                                : !list_next && !upper.back().index;
        if (!fits)
            return fmt::format("{} does not exist and {} cannot hold it", to_text(path), to_text(upper));
    }
    return "";
}

}  // namespace

Edited set_value(const Document& document, std::string_view path_text, std::string_view literal) {
    auto path = parse_path(path_text);
    if (!path) return refuse(path.error());
    if (!document.is_good()) return refuse(first_fault(document));
    const auto value = read_literal(literal, document.rules());
    if (!value) return refuse(value.error());
    const Value old = find(document.root(), *path);
    if (old && is_spread(old)) return refuse(fmt::format("{} is a table; set one of its keys", path_text));
    std::vector<Change> changes;
    if (old) {
        changes.push_back({old.span(), std::string(literal)});
    } else {
        if (auto why = why_not_there(document, *path); !why.empty()) return refuse(std::move(why));
        changes = with_new_key(document, *path, literal);
    }
    return first_good(document, changes, {std::move(*path), How::set, value->root().find("value")},
                      "cannot be set here");
}

Edited append_table(const Document& document, std::string_view path_text, const Fields& fields) {
    auto path = parse_path(path_text);
    if (!path) return refuse(path.error());
    if (has_index(*path)) return refuse(fmt::format("{} is no list of tables of the file", path_text));
    if (!document.is_good()) return refuse(first_fault(document));
    const std::string nl(document.newline());
    std::string lines, pairs;
    for (const auto& [name, literal] : fields) {
        if (!is_plain_key(name)) return refuse(fmt::format("\"{}\" is not a key", name));
        const auto value = read_literal(literal, document.rules());
        if (!value) return refuse(value.error());
        lines += fmt::format("{} = {}{}", name, literal, nl);
        pairs += fmt::format("{}{} = {}", pairs.empty() ? "" : ", ", name, literal);
    }
    const auto entry = Document::parse(lines, document.rules());
    if (!entry.is_good()) return refuse(entry.faults().front().text);
    const Value old = find(document.root(), *path);
    if (old && old.kind() != Kind::list) return refuse(fmt::format("{} is not a list of tables", path_text));
    for (std::size_t n = 1; n < path->size(); ++n) {
        const Value upper =
            find(document.root(), Path(path->begin(), path->begin() + static_cast<std::ptrdiff_t>(n)));
        if (upper && upper.kind() != Kind::table)
            return refuse(fmt::format("{} cannot hold a list of tables", path_text));
    }
    Change change = old && !is_spread(old)
                        ? entry_in(old, "{ " + pairs + " }")
                        : lines_at(document, document.text().size(),
                                   fmt::format("{}[[{}]]{}{}", document.text().empty() ? "" : nl,
                                               to_text(*path), nl, lines));
    return first_good(document, {std::move(change)}, {std::move(*path), How::appended, entry.root()},
                      "cannot be added to here");
}

Edited remove_value(const Document& document, std::string_view path_text) {
    auto path = parse_path(path_text);
    if (!path) return refuse(path.error());
    if (!document.is_good()) return refuse(first_fault(document));
    const Value value = find(document.root(), *path);
    if (!value) return refuse(fmt::format("{} does not exist", path_text));
    const Value holder = find(document.root(), Path(path->begin(), path->end() - 1));
    const Span span = span_to_remove(document, holder, value);
    return first_good(document, {{span, ""}}, {std::move(*path), How::removed, {}}, "cannot be removed");
}

}  // namespace seatwright::toml
