// Bare words of TOML 1.0: numbers, truth values, dates and times.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string_view>

namespace seatwright::toml {

// Longer numbers carry no more meaning.
inline constexpr std::size_t max_word = 64;

struct Date {
    int year = 0, month = 1, day = 1;
    bool operator==(const Date&) const = default;
};
struct Time {
    int hour = 0, minute = 0, second = 0, nanosecond = 0;
    bool operator==(const Time&) const = default;
};
// A date, a time, or both, with an offset from UTC in minutes or without. Parts of a second beyond nine
// figures are cut off; a leap second is refused.
struct Moment {
    std::optional<Date> date;
    std::optional<Time> time;
    std::optional<int> offset;
    bool operator==(const Moment&) const = default;
};

enum class Word {
    nonsense,
    flag,     // true, false
    integer,  // decimal, 0x, 0o, 0b
    number,   // with a point or an exponent, inf, nan
    moment,
    beyond  // a number that 64 bits, or a double, cannot hold
};

// What a word is. Constant time for a word of up to max_word bytes; longer ones are nonsense.
Word kind_of_word(std::string_view word);

// Values of words that are of that kind.
std::int64_t integer_of(std::string_view word);
double number_of(std::string_view word);  // too small a number is 0
Moment moment_of(std::string_view word);

// The byte after the bare word that begins at `at`: letters, figures, and + - . : _, and the one blank that
// may part a date from its time.
std::size_t word_end(std::string_view text, std::size_t at);

// Letters, figures, _ and -: what a key may be made of without quotes.
inline bool is_key_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' || c == '-';
}

}  // namespace seatwright::toml
