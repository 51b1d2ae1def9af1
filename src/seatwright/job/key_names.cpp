#include "seatwright/job/key_names.hpp"

#include <algorithm>
#include <cctype>
#include <map>
#include <optional>
#include <string>

#include "seatwright/job/keys.hpp"
#include "seatwright/job/kind_word.hpp"
#include "seatwright/words/english_job.hpp"

namespace seatwright::job {

namespace {

// The label where it stands within a sentence: "Z", "reading of a first seat"; nothing if the table has no
// such key.
std::optional<std::string> label_at(const std::string& path) {
    static const auto labels = [] {
        std::map<std::string_view, std::string> out;
        for (const Key& key : all_keys()) {
            std::string label = label_of(key);
            if (label.size() > 1)
                label[0] = static_cast<char>(std::tolower(static_cast<unsigned char>(label[0])));
            out.emplace(key.path, std::move(label));
        }
        return out;
    }();
    const auto at = labels.find(path);
    return at == labels.end() ? std::nullopt : std::optional(at->second);
}

// "top[3].angle" → "top[].angle".
std::string without_numbers(std::string_view key) {
    std::string out;
    bool inside = false;
    for (const char c : key) {
        if (c == ']') inside = false;
        if (!inside) out += c;
        if (c == '[') inside = true;
    }
    return out;
}

// A key as the table has it, or of a table of which the file has several.
std::optional<std::string> label_of_path(std::string path) {
    if (auto label = label_at(path)) return label;
    if (path.ends_with("[]")) return label_at(path.substr(0, path.size() - 2));
    for (const std::string_view several : {"machine[]", "fixture[]", "dialect[]"})
        if (path.starts_with(several)) return label_at(path.erase(several.size() - 2, 2));
    return std::nullopt;
}

// "reading.first.6.3I.depth": table, head, valve and figure.
std::optional<Sentence> of_reading(const std::string& key) {
    constexpr std::string_view reading = "reading.";
    if (!key.starts_with(reading)) return std::nullopt;
    const auto table = key.find('.', reading.size()), figure = key.rfind('.');
    if (table == std::string::npos || figure <= table) return std::nullopt;
    const auto valve = key.rfind('.', figure - 1);
    if (valve == std::string::npos || valve <= table) return std::nullopt;
    const std::string of = key.substr(0, table);
    std::string what = key.substr(figure + 1);
    what.resize(std::min(what.find('['), what.size()));
    const auto label = label_at(of + "[]." + what), named = label_at(of);
    if (!label || !named) return std::nullopt;
    return sentence<"key-of-reading">(
        "label"_is = *label, "valve"_is = key.substr(valve + 1, figure - valve - 1), "table"_is = *named,
        "head"_is = key.substr(table + 1, valve - table - 1));
}

// "head.valve.1I.z", "depth.seat.1I.depth".
std::optional<Sentence> of_valve(const std::string& key) {
    for (const std::string_view table : {"head.valve.", "depth.seat."}) {
        if (!key.starts_with(table)) continue;
        const auto figure = key.find('.', table.size());
        if (figure == std::string::npos) return std::nullopt;
        const auto label =
            label_at(std::string(table.substr(0, table.size() - 1)) + "[]" + key.substr(figure));
        if (!label) return std::nullopt;
        return sentence<"key-of-valve">("label"_is = *label,
                                        "valve"_is = key.substr(table.size(), figure - table.size()));
    }
    return std::nullopt;
}

// "seat.intake.width" stands in the table as "seat.*.width".
std::optional<Sentence> of_kind(std::string path) {
    for (const std::string_view table : {"seat.", "valve.", "guide."})
        for (const Kind kind : both_kinds) {
            const std::string_view word = kind_word(kind);
            if (!path.starts_with(table) || !std::string_view(path).substr(table.size()).starts_with(word))
                continue;
            const bool whole = path.size() == table.size() + word.size();
            const auto label = whole ? label_at(path.substr(0, table.size() - 1))
                                     : label_of_path(path.replace(table.size(), word.size(), "*"));
            if (!label) return std::nullopt;
            return sentence<"key-of-kind">("label"_is = *label, "kind"_is = kind_said(kind));
        }
    return std::nullopt;
}

}  // namespace

Sentence name_of_key(std::string_view key) {
    const std::string path = without_numbers(key);
    if (auto label = label_of_path(path)) return sentence<"key-named">("label"_is = std::move(*label));
    if (auto named = of_kind(path)) return std::move(*named);
    const std::string whole(key);
    if (auto named = of_reading(whole)) return std::move(*named);
    if (auto named = of_valve(whole)) return std::move(*named);
    return as_it_stands(whole);
}

}  // namespace seatwright::job
