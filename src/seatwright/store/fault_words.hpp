// What a caught exception may say to a log or a page: what went wrong, never what was to be stored.
//
// SOCI's own words list the values of the statement that failed, a database server's later lines those of the
// row: names, readings, digests of passwords.
#pragma once

#include <exception>
#include <string>

namespace seatwright::store {

std::string words_of(const std::exception& fault);

}  // namespace seatwright::store
