#include "seatwright/cut/known.hpp"
#include "seatwright/find/found_head.hpp"

#include <algorithm>

namespace seatwright::cut {

HeldAt held_at(const hold::Hold& hold, std::size_t valve) {
    for (std::size_t s = 0; s < hold.setups.size(); ++s)
        for (const hold::Held& held : hold.setups[s].valves)
            if (held.valve == valve) return {s, &held};
    return {};
}

const find::FoundSetup* found_setup(const find::Find& find, const std::string& head, const std::string& id) {
    const find::FoundHead* found = find::found_head(find, head);
    if (found == nullptr) return nullptr;
    const auto at = std::find_if(found->setups.begin(), found->setups.end(),
                                 [&](const find::FoundSetup& setup) { return setup.id == id; });
    return at == found->setups.end() ? nullptr : &*at;
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

}  // namespace seatwright::cut
