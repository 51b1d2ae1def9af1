// What the stages before found out about one head, as cut takes it.
#pragma once

#include "seatwright/shape/shape.hpp"

namespace seatwright::cut {

struct Known {
    const job::Job& job;
    const hold::Hold& hold;
    const find::Find& find;
    const shape::Shape& shape;
};

struct HeldAt {
    std::size_t setup = 0;             // index into hold.setups
    const hold::Held* held = nullptr;  // none: in no setup
};
HeldAt held_at(const hold::Hold& hold, std::size_t valve);

// Where that head lies in that setup; null where find has nothing of it.
const find::FoundSetup* found_setup(const find::Find& find, const std::string& head, const std::string& id);
bool any_touched(const find::FoundSetup& setup);
// What the readout shows over that setup's datum guide.
std::optional<Vec2> datum_at(const hold::Setup& setup, const find::FoundSetup& found);

}  // namespace seatwright::cut
