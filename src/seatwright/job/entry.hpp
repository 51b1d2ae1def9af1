// A file's values after the table of keys has accepted them: units converted, types known, lines kept. What
// the table refused is present but empty, so that "missing" and "wrong" are never confused.
#pragma once

#include <array>
#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace seatwright::job {

struct Entry {
    enum class Holds { nothing, number, text, flag, table, list };
    Holds holds = Holds::nothing;
    int line = 0;
    double number = 0;  // memory units; whole numbers and indices too
    std::string text;
    bool flag = false;
    std::vector<std::pair<std::string, Entry>> fields;
    std::vector<Entry> items;

    // The value of that key, good or refused; null if the file does not have it.
    const Entry* find(std::string_view key) const {
        for (const auto& [name, entry] : fields)
            if (name == key) return &entry;
        return nullptr;
    }
    bool has(std::string_view key) const { return find(key) != nullptr; }

    std::optional<double> number_of(std::string_view key) const {
        const Entry* e = find(key);
        if (!e || e->holds != Holds::number) return std::nullopt;
        return e->number;
    }
    std::optional<std::string> text_of(std::string_view key) const {
        const Entry* e = find(key);
        if (!e || e->holds != Holds::text) return std::nullopt;
        return e->text;
    }
    std::optional<bool> flag_of(std::string_view key) const {
        const Entry* e = find(key);
        if (!e || e->holds != Holds::flag) return std::nullopt;
        return e->flag;
    }
    // Numbers of a list; empty if there is none.
    std::vector<double> numbers_of(std::string_view key) const {
        std::vector<double> out;
        if (const Entry* e = find(key))
            for (const auto& item : e->items)
                if (item.holds == Holds::number) out.push_back(item.number);
        return out;
    }
    // Tables of a list, or the one table standing for a list of one.
    std::vector<const Entry*> tables_of(std::string_view key) const {
        std::vector<const Entry*> out;
        const Entry* e = find(key);
        if (!e) return out;
        if (e->holds == Holds::table) out.push_back(e);
        for (const auto& item : e->items)
            if (item.holds == Holds::table) out.push_back(&item);
        return out;
    }
    const Entry* table_of(std::string_view key) const {
        const Entry* e = find(key);
        return e && e->holds == Holds::table ? e : nullptr;
    }
    int line_of(std::string_view key) const {
        const Entry* e = find(key);
        return e && e->line > 0 ? e->line : line;
    }
};

}  // namespace seatwright::job
