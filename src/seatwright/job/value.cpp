#include "seatwright/job/value.hpp"

namespace seatwright::job {

const Value* Value::find(std::string_view key) const {
    for (const auto& field : fields)
        if (field.name == key) return &field.entry;
    return nullptr;
}

std::optional<double> Value::number_of(std::string_view key) const {
    const Value* e = find(key);
    if (!e || e->holds != Holds::number) return std::nullopt;
    return e->number;
}

std::optional<std::string> Value::text_of(std::string_view key) const {
    const Value* e = find(key);
    if (!e || e->holds != Holds::text) return std::nullopt;
    return e->text;
}

std::optional<bool> Value::flag_of(std::string_view key) const {
    const Value* e = find(key);
    if (!e || e->holds != Holds::flag) return std::nullopt;
    return e->flag;
}

const Value* Value::table_of(std::string_view key) const {
    const Value* e = find(key);
    return e && e->holds == Holds::table ? e : nullptr;
}

std::vector<double> Value::numbers_of(std::string_view key) const {
    std::vector<double> out;
    if (const Value* e = find(key))
        for (const auto& item : e->items)
            if (item.holds == Holds::number) out.push_back(item.number);
    return out;
}

std::optional<Vec2> Value::point_of(std::string_view key) const {
    const auto values = numbers_of(key);
    if (values.size() != 2) return std::nullopt;
    return Vec2(values[0], values[1]);
}

std::vector<const Value*> Value::tables_of(std::string_view key) const {
    std::vector<const Value*> out;
    const Value* e = find(key);
    if (!e) return out;
    if (e->holds == Holds::table) out.push_back(e);
    for (const auto& item : e->items)
        if (item.holds == Holds::table) out.push_back(&item);
    return out;
}

int Value::line_of(std::string_view key) const {
    const Value* e = find(key);
    return e && e->line > 0 ? e->line : line;
}

}  // namespace seatwright::job
