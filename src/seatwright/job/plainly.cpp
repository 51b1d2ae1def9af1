#include "seatwright/job/plainly.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace seatwright::job {
namespace {

void collect(const Value& entry, const std::string& path, std::vector<std::string>& lines) {
    switch (entry.holds) {
        case Value::Holds::number:
            lines.push_back(fmt::format("{} = {:.12g}\n", path, entry.number));
            break;
        case Value::Holds::text:
            lines.push_back(fmt::format("{} = \"{}\"\n", path, entry.text));
            break;
        case Value::Holds::flag:
            lines.push_back(fmt::format("{} = {}\n", path, entry.flag));
            break;
        case Value::Holds::table:
            for (const auto& field : entry.fields)
                if (!path.empty() || field.name != "reading")
                    collect(field.entry, path.empty() ? field.name : path + "." + field.name, lines);
            break;
        case Value::Holds::list:
            for (std::size_t i = 0; i < entry.items.size(); ++i)
                collect(entry.items[i], fmt::format("{}[{:06}]", path, i), lines);
            break;
        case Value::Holds::nothing:
            break;
    }
}

}  // namespace

std::string plainly(const Value& root) {
    std::vector<std::string> lines;
    collect(root, "", lines);
    std::sort(lines.begin(), lines.end());
    std::string out;
    for (const auto& line : lines) out += line;
    return out;
}

}  // namespace seatwright::job
