#include "seatwright/job/job.hpp"

#include <algorithm>
#include <string_view>
#include <unordered_set>

namespace seatwright::job {

std::optional<std::size_t> Head::index_of(const std::string& id) const {
    const auto at = std::find_if(valves.begin(), valves.end(), [&](const Valve& v) { return v.id == id; });
    if (at == valves.end()) return std::nullopt;
    return static_cast<std::size_t>(at - valves.begin());
}

bool Head::made_up(std::string_view key) const {
    return names(assumed, key);
}

bool Head::names(const std::vector<std::string>& keys, std::string_view key) {
    return std::any_of(keys.begin(), keys.end(), [&](const std::string& of) {
        return key.starts_with(of) &&
               (key.size() == of.size() || key[of.size()] == '.' || key[of.size()] == '[');
    });
}

std::vector<std::string> Job::heads() const {
    std::vector<std::string> out;
    std::unordered_set<std::string_view> seen;  // of the readings' own texts, which stay where they are
    std::string_view last;                      // most readings follow one of their own head
    const auto note = [&](const std::string& id) {
        if (id == last && !out.empty()) return;
        last = id;
        if (seen.insert(id).second) out.push_back(id);
    };
    for (const auto& r : readings.touches) note(r.head);
    for (const auto& r : readings.levels) note(r.head);
    for (const auto& r : readings.guides) note(r.head);
    for (const auto& r : readings.seats) note(r.head);
    for (const auto& r : readings.firsts) note(r.head);
    for (const auto& r : readings.proofs) note(r.head);
    if (out.empty()) out.emplace_back("1");
    return out;
}

const Material* Job::material(const std::string& name) const {
    const auto at =
        std::find_if(materials.begin(), materials.end(), [&](const Material& m) { return m.name == name; });
    return at == materials.end() ? nullptr : &*at;
}

}  // namespace seatwright::job
