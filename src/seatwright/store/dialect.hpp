// The one place that knows which SQL database is underneath. Every other statement is plain SQL that both
// SQLite (3.35 and later) and PostgreSQL take: named binds, bigint and text columns, `insert … returning`.
#pragma once

#include <soci/soci.h>

#include <string>
#include <vector>

namespace seatwright::store {

struct Dialect {
    std::string begin_write;              // starts a transaction that will write
    std::string begin_read;               // starts a transaction that sees one state throughout
    std::string id_column;                // a primary key that counts up by itself and is never reused
    std::vector<std::string> on_connect;  // statements each new connection needs
    // Statements that make the database itself refuse to change or delete rows of that table.
    std::vector<std::string> (*append_only)(const std::string& table);
    // Connect string of a database file, or the URL itself.
    std::string (*connect)(const std::string& place);
};

const Dialect& sqlite_dialect();

}  // namespace seatwright::store
