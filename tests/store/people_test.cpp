#include <gtest/gtest.h>

#include "house.hpp"

namespace seatwright::store {
namespace {

TEST(People, TheFirstStartMakesOneOwnerOnly) {
    TestFolder folder;
    Database database(folder.file("a b.db"));  // a blank in the path is nothing special
    People people(database, cheap);
    EXPECT_TRUE(people.first_start());
    const auto owner = people.make_owner("Pat", good_password);
    ASSERT_TRUE(owner);
    EXPECT_TRUE(owner->owner);
    EXPECT_EQ(owner->role, Role::lead);
    EXPECT_FALSE(people.first_start());
    const auto second = people.make_owner("Sam", good_password);
    ASSERT_FALSE(second);
    EXPECT_EQ(second.error().why, Why::taken);
}

TEST(People, PasswordsAreCheckedAndKeptAsArgon2id) {
    TestHouse house;
    EXPECT_TRUE(house.people.check("Pat", good_password));
    EXPECT_FALSE(house.people.check("Pat", "a few plain word"));
    EXPECT_FALSE(house.people.check("Nobody", good_password));
    const auto hash = house.database.read([](Sql& sql) {
        std::string text;
        sql << "select password_hash from person", soci::into(text);
        return text;
    });
    // The encoded form of RFC 9106's reference implementation.
    EXPECT_TRUE(hash.starts_with("$argon2id$v=19$m=8,t=1,p=1$")) << hash;
}

TEST(People, ShortPasswordsAndBadNamesAreRefusedWithASentence) {
    TestHouse house;
    const auto refused = house.people.add(house.owner, "Sam", Role::reader, "short");
    ASSERT_FALSE(refused);
    EXPECT_NE(refused.error().text.find("at least 10 characters"), std::string::npos);
    EXPECT_FALSE(house.people.add(house.owner, "", Role::reader, good_password));
    EXPECT_FALSE(house.people.add(house.owner, "a\nb", Role::reader, good_password));
    ASSERT_TRUE(house.people.add(house.owner, "Sam", Role::reader, good_password));
    const auto twice = house.people.add(house.owner, "Sam", Role::lead, good_password);
    ASSERT_FALSE(twice);
    EXPECT_EQ(twice.error().why, Why::taken);
}

TEST(People, ALoginEndsWhenThePersonLogsOutOrIsNoLongerActive) {
    TestHouse house;
    const auto sam = *house.people.add(house.owner, "Sam", Role::machinist, good_password);
    const Login first = house.people.log_in(sam), second = house.people.log_in(sam);
    EXPECT_EQ(first.token.size(), 64u);
    EXPECT_NE(first.token, second.token);
    ASSERT_TRUE(house.people.login_of(first.token));
    EXPECT_EQ(house.people.login_of(first.token)->person.name, "Sam");
    EXPECT_EQ(house.people.login_of(first.token)->csrf, first.csrf);
    EXPECT_FALSE(house.people.login_of("0123"));
    house.people.log_out(first.token);
    EXPECT_FALSE(house.people.login_of(first.token));
    EXPECT_TRUE(house.people.login_of(second.token));
    ASSERT_TRUE(house.people.change(house.owner, sam.id, {{}, {}, {}, false}));
    EXPECT_FALSE(house.people.login_of(second.token));
    EXPECT_FALSE(house.people.check("Sam", good_password));
}

TEST(People, ALoginSeenAMomentAgoIsForgottenAtAnyChangeAndAfterASecond) {
    LoginsSeen<Login> seen;
    const Login login{"token", "csrf", {7, "Sam", Role::machinist, false, true}};
    constexpr long long noon = 1'000'000;
    seen.keep("hash", login, noon, seen.changes());
    ASSERT_TRUE(seen.of("hash", noon + 999));
    EXPECT_EQ(seen.of("hash", noon + 999)->person.name, "Sam");
    EXPECT_FALSE(seen.of("other", noon));
    EXPECT_FALSE(seen.of("hash", noon + 1000));
    EXPECT_FALSE(seen.of("hash", noon - 1)) << "the clock was set back";
    seen.forget();
    EXPECT_FALSE(seen.of("hash", noon));
    // Read before a change, kept after it: it may be what the change took away.
    const long long before = seen.changes();
    seen.forget();
    seen.keep("hash", login, noon, before);
    EXPECT_FALSE(seen.of("hash", noon));
}

TEST(People, TheOwnerStaysAnActiveLead) {
    TestHouse house;
    EXPECT_FALSE(house.people.change(house.owner, house.owner.id, {{}, Role::reader, {}, {}}));
    EXPECT_FALSE(house.people.change(house.owner, house.owner.id, {{}, {}, {}, false}));
    EXPECT_TRUE(house.people.change(house.owner, house.owner.id, {{}, {}, "another few words", {}}));
    EXPECT_TRUE(house.people.check("Pat", "another few words"));
    EXPECT_EQ(house.people.change(house.owner, 999, {}).error().why, Why::not_found);
}

TEST(People, RolesAreOrdered) {
    for (const Role role : {Role::reader, Role::machinist, Role::lead})
        EXPECT_EQ(role_named(name_of(role)), role);
    EXPECT_FALSE(role_named("king"));
    const Person machinist{1, "m", Role::machinist, false, true};
    EXPECT_TRUE(machinist.may(Role::reader));
    EXPECT_TRUE(machinist.may(Role::machinist));
    EXPECT_FALSE(machinist.may(Role::lead));
}

}  // namespace
}  // namespace seatwright::store
