#include "seatwright/casting/tables.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "seatwright/job/quantity.hpp"
#include "seatwright/job/writer.hpp"

namespace seatwright::casting {
namespace {

using job::Value;
using job::ValueType;

// What is said behind a line: from the first # outside quotes on.
std::string said_behind(const std::vector<std::string>& lines, int line) {
    if (line < 1 || static_cast<std::size_t>(line) > lines.size()) return {};
    const auto& text = lines[static_cast<std::size_t>(line) - 1];
    char quote = 0;
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (quote != 0) {
            if (text[i] == '\\' && quote == '"')
                ++i;
            else if (text[i] == quote)
                quote = 0;
        } else if (text[i] == '"' || text[i] == '\'') {
            quote = text[i];
        } else if (text[i] == '#') {
            return "  " + text.substr(i);
        }
    }
    return {};
}

class Writer {
  public:
    explicit Writer(LengthUnit units) : units_(units) {}

    void table(const std::string& path, const Entries& first, const Entries& second, const job::KeyNode& node,
               const char* open = "[", const char* close = "]") {
        std::string own;
        std::vector<std::pair<std::string, Entries>> below;
        for (const auto* from : {&first, &second}) {
            if (from->table == nullptr) continue;
            for (const auto& [name, entry] : from->table->fields) {
                if (from == &second && first.table != nullptr && first.table->has(name) &&
                    entry.holds != Value::Holds::table)
                    continue;
                const auto* child = node.child(name);
                if (child == nullptr || child->key == nullptr || entry.holds == Value::Holds::nothing)
                    continue;
                if (is_table(*child->key)) {
                    below.emplace_back(name, Entries{&entry, from->lines});
                } else {
                    own += fmt::format("{} = {}\n", name, value(entry, *child->key, *from->lines));
                }
            }
        }
        const bool of_a_list = open[1] == '[';
        if (!own.empty() || of_a_list) out_ += fmt::format("{}{}{}\n{}\n", open, path, close, own);
        for (std::size_t i = 0; i < below.size(); ++i) {
            const auto& [name, entries] = below[i];
            const auto* child = node.child(name);
            const auto at = path + "." + name;
            const auto second_too =
                std::find_if(below.begin() + static_cast<std::ptrdiff_t>(i) + 1, below.end(),
                             [&, &n = name](const auto& b) { return b.first == n; });
            if (child->key->type == ValueType::table) {
                const bool seen = std::any_of(below.begin(), below.begin() + static_cast<std::ptrdiff_t>(i),
                                              [&, &n = name](const auto& b) { return b.first == n; });
                if (!seen)
                    table(at, entries, second_too == below.end() ? Entries{} : second_too->second, *child);
                continue;
            }
            for (const auto* item : items_of(*entries.table))
                table(at, {item, entries.lines}, {}, *child, "[[", "]]");
        }
    }

    std::string take() { return std::move(out_); }

  private:
    static bool is_table(const job::Key& key) {
        return key.type == ValueType::table || key.type == ValueType::tables || key.type == ValueType::shelf;
    }

    static std::vector<const Value*> items_of(const Value& list) {
        if (list.holds == Value::Holds::table) return {&list};
        std::vector<const Value*> out;
        for (const auto& item : list.items)
            if (item.holds == Value::Holds::table) out.push_back(&item);
        return out;
    }

    std::string scalar(const Value& v, const job::Key& key) const {
        switch (v.holds) {
            case Value::Holds::flag:
                return v.flag ? "true" : "false";
            case Value::Holds::text:
                return job::toml_string(v.text);
            case Value::Holds::number:
                break;
            default:
                return "\"\"";
        }
        if (!v.text.empty()) return job::toml_string(v.text);
        if (key.type == ValueType::integer || key.type == ValueType::pair)
            return fmt::format("{:.0f}", v.number);
        return fmt::format("{:.12g}", job::to_bare(v.number, key.dimension, units_) + 0.0);
    }

    std::string value(const Value& v, const job::Key& key, const std::vector<std::string>& lines) const {
        if (v.holds != Value::Holds::list) return scalar(v, key) + said_behind(lines, v.line);
        const bool over_lines = std::any_of(v.items.begin(), v.items.end(),
                                            [&](const Value& item) { return item.line != v.line; });
        std::string out = over_lines ? "[\n" : "[";
        for (std::size_t i = 0; i < v.items.size(); ++i) {
            const auto& item = v.items[i];
            std::string one;
            if (item.holds == Value::Holds::list) {
                for (const auto& part : item.items) one += (one.empty() ? "[" : ", ") + scalar(part, key);
                one += "]";
            } else {
                one = scalar(item, key);
            }
            if (over_lines)
                out += fmt::format("    {},{}\n", one,
                                   i + 1 < v.items.size() && v.items[i + 1].line == item.line
                                       ? ""
                                       : said_behind(lines, item.line));
            else
                out += (i > 0 ? ", " : "") + one;
        }
        return out + "]" + (over_lines ? "" : said_behind(lines, v.line));
    }

    LengthUnit units_;
    std::string out_;
};

}  // namespace

std::vector<std::string> lines_of(const std::string& text) {
    std::vector<std::string> out;
    for (std::size_t at = 0; at < text.size();) {
        const auto end = std::min(text.find('\n', at), text.size());
        out.push_back(text.substr(at, end - at));
        if (out.back().ends_with('\r')) out.back().pop_back();
        at = end + 1;
    }
    return out;
}

std::string table_text(const std::string& path, const Entries& first, const Entries& second,
                       const job::KeyNode& node, LengthUnit units) {
    Writer writer(units);
    writer.table(path, first, second, node);
    return writer.take();
}

}  // namespace seatwright::casting
