// Everything of one customer or of the whole shop, in one file anybody can open without this program: a tar
// of job files (TOML), tables (CSV), papers and programs as they left, photographs. What is in it stands in
// its README.txt.
#pragma once

#include <functional>
#include <optional>
#include <string_view>

#include "seatwright/store/database.hpp"
#include "seatwright/store/photographs.hpp"

namespace seatwright::server {

// `customer`: of that one alone (store/orders.hpp); without it the whole shop. `out` takes the bytes in
// order. Throws HttpError 404 when there is no such customer, store::Damaged for what is not as it was
// stored.
void everything(store::Database& database, const store::Photographs& photographs,
                std::optional<long long> customer, const std::function<void(std::string_view)>& out);

}  // namespace seatwright::server
