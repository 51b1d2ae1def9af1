// The one place that knows which SQL database is underneath. Every other statement is plain SQL that both
// SQLite (3.35 and later) and PostgreSQL (15) take: named binds, bigint and text columns, `insert …
// returning`.
#pragma once

#include <soci/soci.h>

#include <string>
#include <vector>

namespace seatwright::store {

struct Dialect {
    bool is_server = false;  // a database server; else a file
    const soci::backend_factory& (*backend)();
    // Connect string of a database file, or the URL itself.
    std::string (*connect)(const std::string& place);
    std::vector<std::string> on_connect;  // statements each new connection needs

    // Starts a transaction about that shop: one that will write, while nobody else writes to that shop; one
    // that sees one state throughout.
    std::string (*begin_write)(long long shop);
    std::string (*begin_read)(long long shop);
    // Starts a transaction that changes tables, while nobody else does.
    std::string begin_migration;
    // Starts one write of several in one transaction; the shop is set anew.
    std::string (*begin_one)(long long shop);

    std::string id_column;                  // a primary key that counts up by itself and is never reused
    std::string shop_column;                // whose row it is: that of the transaction which writes it
    std::vector<std::string> before_steps;  // functions the tables stand on
    std::vector<std::string> photographs;   // their table, where they do not lie in a folder
    // Statements that make the database itself refuse to change or delete rows of that table.
    std::vector<std::string> (*append_only)(const std::string& table);
};

const Dialect& sqlite_dialect();
const Dialect& postgresql_dialect();

// Whether a place names a database server ("postgresql:…"), and the dialect of what it names.
bool is_server_url(const std::string& place);
const Dialect& dialect_of(const std::string& place);

}  // namespace seatwright::store
