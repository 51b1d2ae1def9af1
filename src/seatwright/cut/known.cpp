#include "seatwright/cut/known.hpp"

#include <algorithm>

namespace seatwright::cut {

HeldAt held_at(const hold::Hold& hold, std::size_t valve) {
    for (std::size_t s = 0; s < hold.setups.size(); ++s)
        for (const hold::Held& held : hold.setups[s].valves)
            if (held.valve == valve) return {s, &held};
    return {};
}

const find::FoundSetup* found_setup(const find::Find& find, const std::string& head, const std::string& id) {
    for (const find::FoundHead& found : find.heads) {
        if (found.head != head) continue;
        for (const find::FoundSetup& setup : found.setups)
            if (setup.id == id) return &setup;
    }
    return nullptr;
}

bool any_touched(const find::FoundSetup& setup) {
    return std::any_of(setup.guides.begin(), setup.guides.end(),
                       [](const find::FoundGuide& guide) { return guide.touched; });
}

std::optional<Vec2> datum_at(const hold::Setup& setup, const find::FoundSetup& found) {
    for (const find::FoundGuide& guide : found.guides)
        if (guide.valve == setup.datum) return guide.programmed;
    return std::nullopt;
}

const std::vector<find::PilotChoice>& pilots_for(const find::Find& find, const std::string& head) {
    for (const find::FoundHead& found : find.heads)
        if (found.head == head && !found.pilots.empty()) return found.pilots;
    return find.pilots;
}

}  // namespace seatwright::cut
