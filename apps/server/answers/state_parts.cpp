#include "server/answers/state_parts.hpp"

#include <map>
#include <string_view>

#include "server/http/http_error.hpp"

namespace seatwright::server {

namespace {

std::string_view parent_of(std::string_view path) {
    return path.substr(0, path.rfind('/'));
}

std::vector<std::string_view> names_of(std::string_view path) {
    std::vector<std::string_view> names;
    while (!path.empty()) {
        const auto end = std::min(path.find('/', 1), path.size());
        names.push_back(path.substr(1, end - 1));
        path.remove_prefix(end);
    }
    return names;
}

class Patch {
  public:
    void add(const char* op, std::string_view path, std::string_view value) {
        (((((text_ += text_.empty() ? "[{" : ",{") += "\"op\":\"") += op) += "\",\"path\":\"") += path) +=
            '"';
        if (!value.empty()) (text_ += ",\"value\":") += value;
        text_ += '}';
    }
    std::string take() { return text_.empty() ? "[]" : std::move(text_) + "]"; }

  private:
    std::string text_;
};

// The things a list has gained at its end; nothing where it is not the old one with more behind it.
std::optional<Json> gained(const std::string& before, const std::string& after) {
    if (before.size() <= 2 || before.front() != '[' || after.size() <= before.size()) return std::nullopt;
    const std::string_view same(before.data(), before.size() - 1);
    if (!after.starts_with(same) || after[same.size()] != ',') return std::nullopt;
    return Json::parse("[" + after.substr(same.size() + 1));
}

}  // namespace

std::string whole_of(const StateParts& parts) {
    std::string text;
    std::size_t size = 2;
    for (const StatePart& part : parts) size += part.path.size() + part.text.size() + 8;
    text.reserve(size);
    std::vector<std::string_view> open;  // names of the objects that are not closed yet
    text += '{';
    for (const StatePart& part : parts) {
        auto names = names_of(part.path);
        std::size_t same = 0;
        while (same < open.size() && same + 1 < names.size() && open[same] == names[same]) ++same;
        text.append(open.size() - same, '}');
        open.resize(same);
        if (text.back() != '{') text += ',';
        for (; same + 1 < names.size(); ++same) {
            ((text += '"') += names[same]) += "\":{";
            open.push_back(names[same]);
        }
        (((text += '"') += names.back()) += "\":") += part.text;
    }
    text.append(open.size() + 1, '}');
    return text;
}

std::string patch_of(const StateParts& before, const StateParts& after) {
    Patch patch;
    std::map<std::string_view, const StatePart*> old;
    std::map<std::string_view, int> old_objects, objects;  // parts in them
    for (const StatePart& part : before) {
        old.emplace(part.path, &part);
        ++old_objects[parent_of(part.path)];
    }
    for (const StatePart& part : after) ++objects[parent_of(part.path)];
    // An object that was a part itself (a stage without a result), or becomes one, is told whole.
    for (const StatePart& part : before)
        if (objects.contains(part.path)) patch.add("replace", part.path, "{}");
    for (const StatePart& part : after) {
        const auto at = old.find(part.path);
        if (at == old.end()) {
            patch.add(old_objects.contains(part.path) ? "replace" : "add", part.path, part.text);
            continue;
        }
        const StatePart& was = *at->second;
        old.erase(at);
        if (was.text == part.text) continue;
        if (const auto more = gained(was.text, part.text))
            for (const Json& one : *more) patch.add("add", part.path + "/-", one.dump());
        else
            patch.add("replace", part.path, part.text);
    }
    for (const auto& [path, part] : old)
        if (!objects.contains(path) && objects.contains(parent_of(path))) patch.add("remove", path, "");
    return patch.take();
}

}  // namespace seatwright::server
