#include "seatwright/job/key_tree.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "seatwright/job/kind_word.hpp"

namespace seatwright::job {
namespace {

KeyNode& grow(KeyNode& at, std::string_view part) {
    for (auto& node : at.children)
        if (node.name == part) return node;
    return at.children.emplace_back(KeyNode{.name = part, .table = at.table});
}

// Letters to add, drop, change or swap with their neighbour (optimal string alignment).
std::size_t distance(std::string_view a, std::string_view b) {
    std::vector<std::size_t> before(b.size() + 1), last(b.size() + 1), row(b.size() + 1);
    for (std::size_t j = 0; j <= b.size(); ++j) row[j] = j;
    for (std::size_t i = 1; i <= a.size(); ++i) {
        before.swap(last);
        last.swap(row);
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            row[j] = std::min({last[j] + 1, row[j - 1] + 1, last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1)});
            if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                row[j] = std::min(row[j], before[j - 2] + 1);
        }
    }
    return row[b.size()];
}

// "[depth]", "[[reading.seat]]": the table of a key as a job file heads it.
std::string headed(std::string_view table) {
    if (!table.ends_with("[]")) return "[" + std::string(table) + "]";
    table.remove_suffix(2);
    return "[[" + std::string(table) + "]]";
}

// Where else a key of that name lives: the other half of a common slip. Of several those beside where it
// stands: a reading's key belongs in another reading.
std::string home_of(std::string_view name, const KeyNode& node) {
    std::vector<std::string> homes, beside;
    const std::string_view root = node.key ? node.key->path.substr(0, node.key->path.find('.')) : "";
    for (const Key& key : node.table) {
        const auto dot = key.path.rfind('.');
        if (dot == std::string_view::npos || key.path.substr(dot + 1) != name) continue;
        homes.push_back(headed(key.path.substr(0, dot)));
        if (key.path.substr(0, key.path.find('.')) == root) beside.push_back(homes.back());
    }
    if (homes.empty()) return {};
    return beside.empty() ? homes.front() : fmt::format("{}", fmt::join(beside, " or "));
}

}  // namespace

const Key* key_at(std::string_view place) {
    const KeyNode* at = &key_tree();
    while (!place.empty()) {
        const auto dot = place.find('.');
        at = at->child(place.substr(0, std::min(dot, place.find('['))));
        if (at == nullptr) return nullptr;
        place = dot == std::string_view::npos ? std::string_view{} : place.substr(dot + 1);
    }
    return at->key;
}

KeyNode tree_of(std::span<const Key> keys) {
    KeyNode root{.table = keys};
    for (const Key& key : keys) {
        KeyNode* at = &root;
        std::string_view rest = key.path;
        while (!rest.empty()) {
            const auto dot = rest.find('.');
            auto part = rest.substr(0, dot);
            if (part.ends_with("[]")) part.remove_suffix(2);
            at = &grow(*at, part);
            rest = dot == std::string_view::npos ? std::string_view{} : rest.substr(dot + 1);
        }
        at->key = &key;
    }
    return root;
}

const KeyNode& key_tree() {
    static const KeyNode tree = tree_of(all_keys());
    return tree;
}

const KeyNode* KeyNode::child(std::string_view wanted) const {
    for (const auto& node : children)
        if (node.name == wanted) return &node;
    for (const auto& node : children)
        if (node.name == "*" && (wanted == kind_word(Kind::intake) || wanted == kind_word(Kind::exhaust)))
            return &node;
    return nullptr;
}

std::string unknown_key(std::string_view name, const KeyNode& node) {
    std::vector<std::string_view> names;
    for (const auto& child : node.children) {
        if (child.name == "*") {
            names.insert(names.end(), {kind_word(Kind::intake), kind_word(Kind::exhaust)});
        } else {
            names.push_back(child.name);
        }
    }
    const std::string text = "is not a key known here";
    if (const auto near = nearest_name(name, names); !near.empty())
        return text + fmt::format("; did you mean \"{}\"?", near);
    if (const auto home = home_of(name, node); !home.empty())
        return text + fmt::format("; \"{}\" belongs in {}", name, home);
    return text + fmt::format("; known here: {}", fmt::join(names, ", "));
}

std::string nearest_name(std::string_view word, const std::vector<std::string_view>& candidates) {
    std::string best;
    std::size_t least = std::string::npos;
    if (word.size() > 64) return best;
    for (const auto candidate : candidates) {
        const std::size_t allowed = std::max<std::size_t>(1, std::max(word.size(), candidate.size()) / 3);
        const std::size_t d = distance(word, candidate);
        if (d <= allowed && d < least) {
            least = d;
            best = candidate;
        }
    }
    return best;
}

}  // namespace seatwright::job
