#include "seatwright/store/guessed_first.hpp"

#include <crack.h>
#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <filesystem>
#include <mutex>
#include <set>

namespace seatwright::store {

namespace {

constexpr const char* advice = "four plain words that have nothing to do with each other do well";

std::string plain(const std::string& text) {
    std::string out;
    for (const char c : text)
        if (std::isalnum(static_cast<unsigned char>(c)) != 0 || (c & 0x80) != 0)
            out += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    return out;
}

// Of ten letters and more, without signs and capitals; from memory, of the kind every list of leaked
// passwords begins with.
constexpr std::array most_used{
    "1234567890",    "12345678910",  "0123456789",  "0987654321",    "1q2w3e4r5t",  "1qaz2wsx3edc",
    "qwertyuiop",    "qwerty12345",  "qwertz12345", "asdfghjkl1",    "password12",  "password123",
    "password1234",  "passw0rd123",  "letmein123",  "letmeinplease", "welcome123",  "welcome1234",
    "administrator", "admin12345",   "iloveyou12",  "changeme123",   "trustno1234", "football123",
    "baseball123",   "sunshine123",  "princess123", "superman123",   "abcdefghij",  "abcdefghijk",
    "abcd123456",    "abc1234567",   "testtest12",  "secret1234",    "workbench1",  "machinist1",
    "machineshop",   "cylinderhead", "valveseat1",  "seatwright",    "seatwright1"};

bool is_run(const std::string& text) {
    std::set<char> letters(text.begin(), text.end());
    if (letters.size() < 4) return true;  // aaaaaaaaaa, 1212121212
    bool up = true, down = true;
    for (std::size_t i = 1; i < text.size(); ++i) {
        up = up && text[i] == text[i - 1] + 1;
        down = down && text[i] == text[i - 1] - 1;
    }
    return up || down;
}

// What cracklib says; its dictionary is a package of its own and may not be there.
std::optional<std::string> by_dictionary(const std::string& password) {
    const std::string dictionary = GetDefaultCracklibDict();
    if (!std::filesystem::exists(dictionary + ".pwd")) return std::nullopt;
    static std::mutex one_at_a_time;  // the library keeps its words in one place
    const std::lock_guard lock(one_at_a_time);
    const char* why = FascistCheck(password.c_str(), dictionary.c_str());
    return why == nullptr ? std::nullopt : std::optional<std::string>(why);
}

}  // namespace

std::optional<std::string> guessed_first(const std::string& password, const std::string& name) {
    const std::string bare = plain(password), own = plain(name);
    constexpr std::size_t telling = 4;  // letters; a shorter name stands in many words
    if (own.size() >= telling && bare.find(own) != std::string::npos)
        return fmt::format("a password does not hold one's own name; {}", advice);
    const bool used = std::find(most_used.begin(), most_used.end(), bare) != most_used.end();
    if (used || is_run(bare.empty() ? password : bare))
        return fmt::format("that password is one of those guessed first; {}", advice);
    if (const auto why = by_dictionary(password))
        return fmt::format("that password is one of those guessed first ({}); {}", *why, advice);
    return std::nullopt;
}

}  // namespace seatwright::store
