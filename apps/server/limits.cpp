#include "limits.hpp"

#include <algorithm>

#include "halt.hpp"
#include "seatwright/store/toml_json.hpp"

namespace seatwright::server {

namespace {

const std::vector<std::string>& limit_keys() {
    static const std::vector<std::string> keys = [] {
        std::vector<std::string> all{"/fixture/plumb_limit",  "/fixture/mass_max", "/depth/stem_spread",
                                     "/depth/chamber_spread", "/depth/bridge_min", "/find/enter_target"};
        for (const std::string kind : {"intake", "exhaust"}) {
            for (const std::string key : {"width_tol", "runout_max", "stem_height_max", "recession_max",
                                          "tip_grind_max", "cut_allowed", "vacuum_min", "vacuum_loss_max"})
                all.push_back("/seat/" + kind + "/" + key);
            for (const std::string key : {"bore_max", "bell_max"})
                all.push_back("/guide/" + kind + "/" + key);
        }
        return all;
    }();
    return keys;
}

Json tree_of(const std::string& text) {
    const auto table = store::parse_toml(text);
    return table ? store::json_of(*table) : Json::object();
}

Json value_at(const Json& tree, const std::string& pointer) {
    const Json::json_pointer at(pointer);
    return tree.contains(at) ? tree.at(at) : Json(nullptr);
}

}  // namespace

std::vector<std::string> changed_limits(const std::string& before, const std::string& after) {
    const Json old_tree = tree_of(before), new_tree = tree_of(after);
    std::vector<std::string> changed;
    for (const auto& pointer : limit_keys()) {
        if (value_at(old_tree, pointer) == value_at(new_tree, pointer)) continue;
        std::string key = pointer.substr(1);
        std::replace(key.begin(), key.end(), '/', '.');
        changed.push_back(key);
    }
    return changed;
}

}  // namespace seatwright::server
