#include "seatwright/job/plainly.hpp"

#include <algorithm>

#include "seatwright/base/append.hpp"

namespace seatwright::job {
namespace {

// `path`: of the entry; what is put behind it meanwhile is taken off again.
void collect(const Value& entry, std::string& path, std::vector<std::string>& lines) {
    const std::size_t length = path.size();
    switch (entry.holds) {
        case Value::Holds::number:
            append(lines.emplace_back(path), " = {:.12g}\n", entry.number);
            break;
        case Value::Holds::text:
            ((lines.emplace_back(path) += " = \"") += entry.text) += "\"\n";
            break;
        case Value::Holds::flag:
            lines.emplace_back(path) += entry.flag ? " = true\n" : " = false\n";
            break;
        case Value::Holds::table:
            for (const auto& field : entry.fields) {
                if (path.empty() && field.name == "reading") continue;
                (path += length == 0 ? "" : ".") += field.name;
                collect(field.entry, path, lines);
                path.resize(length);
            }
            break;
        case Value::Holds::list:
            for (std::size_t i = 0; i < entry.items.size(); ++i) {
                append(path, "[{:06}]", i);
                collect(entry.items[i], path, lines);
                path.resize(length);
            }
            break;
        case Value::Holds::nothing:
            break;
    }
}

}  // namespace

std::string plainly(const Value& root) {
    std::vector<std::string> lines;
    std::string path;
    collect(root, path, lines);
    std::sort(lines.begin(), lines.end());
    std::string out;
    for (const auto& line : lines) out += line;
    return out;
}

}  // namespace seatwright::job
