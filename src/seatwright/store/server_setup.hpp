// A database server made ready for this program, and whether it can be trusted with a shop's work.
//
// Two roles: the owner of the tables, who makes and changes them and whom no server runs as; and the role the
// servers use, which owns nothing and for which row level security holds (store/shop_guard.hpp).
#pragma once

#include <stdexcept>
#include <string>

#include "seatwright/store/refusal.hpp"
#include "seatwright/store/sql.hpp"

namespace seatwright::store {

// The database server, or the role this program came with, is not to be used like that; a sentence.
struct Unfit : std::runtime_error {
    using std::runtime_error::runtime_error;
};

// Throws Unfit when the database server does not flush what it acknowledges, when this role could see or
// change more than one shop's rows, or may not do what a server does; NewerData and OlderData as migrations.
void require_fit(Sql& sql);

// Whether a commit waits for a second machine, too.
bool waits_for_standby(Sql& sql);

// Makes or brings up to date the tables of the database at `url`, as the role it names, who then owns them,
// and lets `server_role` work on them. Gives the step reached.
Answer<long long> set_up_server(const std::string& url, const std::string& server_role);

// One sentence for what a database server said when it was opened.
std::string why_not_opened(const std::string& url, const std::string& said);

}  // namespace seatwright::store
