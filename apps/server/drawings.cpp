#include "drawings.hpp"

#include <fmt/format.h>

#include <functional>

namespace seatwright::server {

namespace {

using job::Stage;

struct Entry {
    DrawingName name;
    Stage needs;
    std::function<papers::Drawing(Computation&, const DrawingQuery&)> draw;
};

const std::vector<Entry>& table() {
    static const std::vector<Entry> entries{};
    return entries;
}

}  // namespace

std::string DrawingQuery::key() const {
    return fmt::format("{}/{}/{}/{}/{}", setup, kind, valve, what, unit == LengthUnit::inch ? "in" : "mm");
}

const std::vector<DrawingName>& drawing_names() {
    static const std::vector<DrawingName> names = [] {
        std::vector<DrawingName> all;
        for (const auto& entry : table()) all.push_back(entry.name);
        return all;
    }();
    return names;
}

std::vector<DrawingName> drawings_of(Computation& computation) {
    std::vector<DrawingName> possible;
    for (const auto& entry : table())
        if (computation.needs(entry.needs).empty()) possible.push_back(entry.name);
    return possible;
}

papers::Drawing draw(Computation& computation, const std::string& name, const DrawingQuery& query) {
    for (const auto& entry : table())
        if (entry.name.name == name) return entry.draw(computation, query);
    throw halt(404, "there is no drawing of that name");
}

}  // namespace seatwright::server
