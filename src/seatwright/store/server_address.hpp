// The address of a database server, postgresql://USER@HOST:PORT/DATABASE (PostgreSQL 15, 34.1.1.2).
#pragma once

#include <string>

namespace seatwright::store {

// What is wrong with it, a sentence; empty: it can be read.
std::string fault_of_address(const std::string& url);

// As libpq takes it, with bounds on how long an answer is waited for.
std::string connect_string_of(const std::string& url);

// Without the password, for people.
std::string shown_address(const std::string& url);

}  // namespace seatwright::store
