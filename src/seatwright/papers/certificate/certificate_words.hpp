// How a certificate writes a judged value.
#pragma once

#include <optional>
#include <string>

#include "seatwright/base/units.hpp"
#include "seatwright/prove/prove.hpp"

namespace seatwright::papers {

// A characteristic's value in the paper's unit; a vacuum with its unit behind it. A dash for what is not
// known.
std::string shown_value(std::optional<double> value, const std::string& what, LengthUnit unit);

// "± 0.002" behind a value, in the value's unit; nothing where no U is known.
std::string shown_u(const prove::Judgement& judgement, LengthUnit unit);

// A single place of the width, judged beside its mean.
bool is_place(const prove::Judgement& judgement);

// Of one characteristic of a seat; null where it is not judged.
const prove::Judgement* judgement_of(const prove::SeatProof& seat, const std::string& what);

// A coverage factor other than 2, which is said once above the values.
bool has_own_k(const prove::Judgement& judgement);

bool any_vacuum(const prove::Proof& proof);

}  // namespace seatwright::papers
