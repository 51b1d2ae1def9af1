// The server is killed outright at random moments under eight writers: whatever it acknowledged is on record
// once, and the database is sound.
#include <gtest/gtest.h>

#include "killed.hpp"

namespace seatwright::server {
namespace {

TEST(Killed, AgainAndAgainUnderEightWritersNothingAcknowledgedIsLostOrDoubled) {
    store::TestFolder folder;
    const Killed killed = kill_under_writers(folder.path(), 8, drawn(20, 200, 5));
    const auto contents = store::inspect(store::database_file(folder.path()));
    ASSERT_TRUE(contents) << contents.error().text;
    store::Database database(store::database_file(folder.path()));
    expect_all_once(killed, store::Entries(database).list(killed.job));
}

}  // namespace
}  // namespace seatwright::server
