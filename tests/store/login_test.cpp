// Names that look alike, passwords that are guessed first, codes by the clock.
#include <gtest/gtest.h>

#include "house.hpp"
#include "seatwright/store/chain.hpp"
#include "seatwright/store/guessed_first.hpp"
#include "seatwright/store/names.hpp"
#include "seatwright/store/second_factor.hpp"
#include "seatwright/store/totp.hpp"

namespace seatwright::store {
namespace {

TEST(Names, ThatLookAlikeAreOne) {
    // Pairs of UTS 39's confusables: Cyrillic a and e, the full-width P, I l 1, the zero, r n for m.
    for (const auto& [a, b] : std::vector<std::pair<std::string, std::string>>{{"Pat", "P\u0430t"},
                                                                               {"Pat", "pat"},
                                                                               {"Pat", "PAT"},
                                                                               {"Pete", "P\u0435te"},
                                                                               {"Ian", "lan"},
                                                                               {"Lil", "LiI"},
                                                                               {"BOB", "B0B"},
                                                                               {"Tom", "Torn"},
                                                                               {"Ann Lee", "Ann  Lee"},
                                                                               {"Zo\u00eb", "Zoe\u0308"}})
        EXPECT_TRUE(look_alike(a, b)) << a << " " << b;
    for (const auto& [a, b] : std::vector<std::pair<std::string, std::string>>{
             {"Pat", "Pam"}, {"Jon", "John"}, {"Ann", "Anna"}, {"Zoe", "Zo\u00eb"}})
        EXPECT_FALSE(look_alike(a, b)) << a << " " << b;
}

TEST(Names, AreFreeOnceOnly) {
    TestHouse house;
    const auto twin = house.people.add(house.owner, "P\u0430t", Role::reader, good_password);
    ASSERT_FALSE(twin);
    EXPECT_EQ(twin.error().why, Why::taken);
    EXPECT_NE(twin.error().text.find("would be taken for Pat, who is there already"), std::string::npos);
    const auto sam = house.people.add(house.owner, "Sam", Role::reader, good_password);
    ASSERT_TRUE(sam);
    Change change;
    change.name = "PAT";
    EXPECT_FALSE(house.people.change(house.owner, sam->id, change));
    change.name = "sam";
    EXPECT_EQ(house.people.change(house.owner, sam->id, change)->name, "sam")
        << "one's own, written otherwise";
    EXPECT_EQ(house.people.check("SAM", good_password)->id, sam->id) << "one name, however it is written";
}

TEST(Names, CanBeChangedWithoutTouchingWhatIsOnRecord) {
    TestHouse house;
    const auto sam = *house.people.add(house.owner, "Sam", Role::machinist, good_password);
    const long long job = house.new_job();
    ASSERT_TRUE(house.entries.append(sam, job, touch("key-0001", "1I", 1, 2)));
    Change change;
    change.name = "Nobody any more";
    ASSERT_TRUE(house.people.change(house.owner, sam.id, change));
    EXPECT_EQ(house.entries.list(job).front().by, "Nobody any more");
    EXPECT_TRUE(house.database.read(damage_in).empty());
}

TEST(Passwords, ThatAreGuessedFirstAreRefused) {
    for (const std::string password :
         {"password123", "Password-123", "1234567890", "qwertyuiop", "aaaaaaaaaaaa", "abababababab",
          "abcdefghijkl", "cylinderhead", "Pat Miller 1"})
        EXPECT_TRUE(guessed_first(password, "Pat Miller")) << password;
    for (const std::string password : {"a few plain words", "another few words", "brass kettle over north"})
        EXPECT_FALSE(guessed_first(password, "Pat Miller"))
            << password << ": " << guessed_first(password, "Pat Miller").value_or("");
    TestHouse house;
    const auto refused = house.people.add(house.owner, "Sam", Role::reader, "password123");
    ASSERT_FALSE(refused);
    EXPECT_NE(refused.error().text.find("guessed first"), std::string::npos);
    EXPECT_FALSE(house.people.change_own_password(house.owner, good_password, "1234567890"));
}

TEST(Totp, GivesTheCodesOfTheStandard) {
    // RFC 6238, appendix B, SHA-1, eight digits.
    const std::string secret = "12345678901234567890";
    const std::vector<std::pair<long long, std::string>> vectors{
        {59, "94287082"},         {1111111109, "07081804"}, {1111111111, "14050471"},
        {1234567890, "89005924"}, {2000000000, "69279037"}, {20000000000, "65353130"}};
    for (const auto& [seconds, code] : vectors)
        EXPECT_EQ(totp(secret, static_cast<std::uint64_t>(seconds / totp_step_s), 8), code);
    // RFC 4226, appendix D, six digits, counters 0 to 2.
    EXPECT_EQ(totp(secret, 0), "755224");
    EXPECT_EQ(totp(secret, 1), "287082");
    EXPECT_EQ(totp(secret, 2), "359152");
}

TEST(Totp, ACodeIsTakenOnceAndHalfAMinuteOff) {
    const std::string secret = "12345678901234567890";
    EXPECT_EQ(totp_step_of(secret, "287082", 45, 0), 1);
    EXPECT_EQ(totp_step_of(secret, "287082", 75, 0), 1) << "of the step before";
    EXPECT_FALSE(totp_step_of(secret, "287082", 105, 0));
    EXPECT_FALSE(totp_step_of(secret, "287082", 45, 1)) << "given before";
    EXPECT_FALSE(totp_step_of(secret, "28708", 45, 0));
}

TEST(Totp, SecretsAreTypedInBase32) {
    // RFC 4648, section 10.
    for (const auto& [bytes, text] : std::vector<std::pair<std::string, std::string>>{
             {"f", "MY"}, {"fo", "MZXQ"}, {"foo", "MZXW6"}, {"foob", "MZXW6YQ"}, {"foobar", "MZXW6YTBOI"}}) {
        EXPECT_EQ(base32(bytes), text);
        EXPECT_EQ(bytes_of_base32(text), bytes);
    }
    EXPECT_EQ(bytes_of_base32("mzxw 6ytb-oi"), "foobar") << "as a person types it";
}

TEST(SecondFactor, IsForLeadsAndCountsOnceConfirmed) {
    TestHouse house;
    SecondFactor second(house.database);
    const auto sam = *house.people.add(house.owner, "Sam", Role::machinist, good_password);
    EXPECT_FALSE(second.begin(sam));
    const auto secret = second.begin(house.owner);
    ASSERT_TRUE(secret);
    EXPECT_EQ(secret->size(), 32u) << "160 bits";
    EXPECT_FALSE(second.is_on(house.owner.id));
    EXPECT_FALSE(second.confirm(house.owner, "000000", 59));
    const auto codes = second.confirm(house.owner, totp(bytes_of_base32(*secret), 2), 65);
    ASSERT_TRUE(codes);
    EXPECT_TRUE(second.is_on(house.owner.id));
    EXPECT_FALSE(second.begin(house.owner)) << "nobody slips another under a lead";
    EXPECT_FALSE(second.takes(house.owner.id, totp(bytes_of_base32(*secret), 2), 65)) << "used to confirm";
    EXPECT_TRUE(second.takes(house.owner.id, (*codes)[0], 65));
    EXPECT_FALSE(second.takes(house.owner.id, (*codes)[0], 65));
    second.end(house.owner, house.owner);
    EXPECT_FALSE(second.takes(house.owner.id, (*codes)[1], 65));
}

}  // namespace
}  // namespace seatwright::store
