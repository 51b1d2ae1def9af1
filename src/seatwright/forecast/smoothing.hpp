// Of a smooth function known at evenly spaced places: blurred by a normal error, and integrated up to any
// place.
#pragma once

#include <cstddef>
#include <vector>

namespace seatwright::forecast {

// `table` has `rows` × `columns` numbers; each column (`down`) or each row is blurred by a normal of `sd`
// places.
void smooth(std::vector<double>& table, std::size_t rows, std::size_t columns, bool down, double sd);

// The weight of a place in an integral up to `above` places beyond it: ½ + Si(π·above)/π, which is exact for
// what holds no wave shorter than two places.
double part_below(double above);

}  // namespace seatwright::forecast
