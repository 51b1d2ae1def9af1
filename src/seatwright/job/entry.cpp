#include "seatwright/job/entry.hpp"

namespace seatwright::job {

const Entry* Entry::find(std::string_view key) const {
    for (const auto& field : fields)
        if (field.name == key) return &field.entry;
    return nullptr;
}

std::optional<double> Entry::number_of(std::string_view key) const {
    const Entry* e = find(key);
    if (!e || e->holds != Holds::number) return std::nullopt;
    return e->number;
}

std::optional<std::string> Entry::text_of(std::string_view key) const {
    const Entry* e = find(key);
    if (!e || e->holds != Holds::text) return std::nullopt;
    return e->text;
}

std::optional<bool> Entry::flag_of(std::string_view key) const {
    const Entry* e = find(key);
    if (!e || e->holds != Holds::flag) return std::nullopt;
    return e->flag;
}

const Entry* Entry::table_of(std::string_view key) const {
    const Entry* e = find(key);
    return e && e->holds == Holds::table ? e : nullptr;
}

std::vector<double> Entry::numbers_of(std::string_view key) const {
    std::vector<double> out;
    if (const Entry* e = find(key))
        for (const auto& item : e->items)
            if (item.holds == Holds::number) out.push_back(item.number);
    return out;
}

std::optional<Vec2> Entry::point_of(std::string_view key) const {
    const auto values = numbers_of(key);
    if (values.size() != 2) return std::nullopt;
    return Vec2(values[0], values[1]);
}

std::vector<const Entry*> Entry::tables_of(std::string_view key) const {
    std::vector<const Entry*> out;
    const Entry* e = find(key);
    if (!e) return out;
    if (e->holds == Holds::table) out.push_back(e);
    for (const auto& item : e->items)
        if (item.holds == Holds::table) out.push_back(&item);
    return out;
}

int Entry::line_of(std::string_view key) const {
    const Entry* e = find(key);
    return e && e->line > 0 ? e->line : line;
}

}  // namespace seatwright::job
