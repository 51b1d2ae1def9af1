// On a database server every table is fenced by shop: its keys and references contain the shop, and row level
// security shows and takes only the rows of the shop the transaction has set, from the tables' owner too.
// Written from the catalogue, so that a table cannot be forgotten. (PostgreSQL 15: 5.8 Row Security
// Policies.)
#pragma once

#include <string>

#include "seatwright/store/sql.hpp"

namespace seatwright::store {

// Before steps are taken: their own statements see every shop. The fences stand again when the transaction
// ends, by guard_shops().
void open_fences(Sql& sql);

// Every table that has a shop. What is fenced already stays.
void guard_shops(Sql& sql);

// What a server may do with its role: read all of its shop, add rows, and change and delete where the table
// is not append-only. It owns nothing.
void allow_server(Sql& sql, const std::string& role);

// A name as SQL takes it, in its quotation marks.
std::string sql_name(const std::string& name);

}  // namespace seatwright::store
