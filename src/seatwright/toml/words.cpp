#include "seatwright/toml/words.hpp"

#include <array>
#include <cctype>
#include <charconv>
#include <cmath>
#include <limits>
#include <string>

namespace seatwright::toml {
namespace {

bool is_figure(char c) {
    return c >= '0' && c <= '9';
}

int base_of(std::string_view word) {
    if (word.starts_with("0x")) return 16;
    if (word.starts_with("0o")) return 8;
    return word.starts_with("0b") ? 2 : 10;
}

bool is_figure_of(char c, int base) {
    return base == 16 ? std::isxdigit(static_cast<unsigned char>(c)) != 0 : c >= '0' && c < '0' + base;
}

// Figures with single underscores between them; moves `at` behind them.
bool take_figures(std::string_view word, std::size_t& at, int base) {
    const std::size_t begin = at;
    while (at < word.size() &&
           (is_figure_of(word[at], base) || (word[at] == '_' && at > begin && word[at - 1] != '_')))
        ++at;
    return at > begin && word[at - 1] != '_';
}

// The figures of a number without its underscores and plus.
std::string_view bare_figures(std::string_view word, std::array<char, max_word>& buffer) {
    std::size_t size = 0;
    for (const char c : word.substr(word.starts_with('+') ? 1 : 0))
        if (c != '_') buffer[size++] = c;
    return {buffer.data(), size};
}

std::optional<std::int64_t> read_integer(std::string_view word) {
    std::array<char, max_word> buffer;
    const int base = base_of(word);
    const auto figures = bare_figures(base == 10 ? word : word.substr(2), buffer);
    std::int64_t value = 0;
    const char* end = figures.data() + figures.size();
    const auto read = std::from_chars(figures.data(), end, value, base);
    if (read.ec != std::errc() || read.ptr != end) return std::nullopt;
    return value;
}

// Whether a number without sign is below 1, by its first figure that is not 0 and its exponent.
bool is_below_one(std::string_view figures) {
    const auto mark = figures.find_first_of("eE");
    const auto point = std::min(figures.find('.'), std::min(mark, figures.size()));
    const auto first = figures.find_first_of("123456789");
    if (first == std::string_view::npos || first > mark) return true;
    const bool negative = mark != std::string_view::npos && figures[mark + 1] == '-';
    // Only asked of what a double cannot hold: then the exponent decides, unless there is none.
    return mark == std::string_view::npos ? first > point : negative;
}

std::optional<double> read_number(std::string_view word) {
    std::array<char, max_word> buffer;
    auto figures = bare_figures(word, buffer);
    double value = 0;
    const char* end = figures.data() + figures.size();
    const auto read = std::from_chars(figures.data(), end, value);
    if (read.ec == std::errc::result_out_of_range) {
        const bool negative = figures.starts_with('-');
        if (!is_below_one(figures.substr(negative ? 1 : 0))) return std::nullopt;
        return negative ? -0.0 : 0.0;
    }
    if (!std::isfinite(value)) return std::nullopt;
    return value;
}

Word integer_or_beyond(std::string_view word) {
    constexpr std::size_t always_held = 15;  // figures that 64 bits hold in every base
    return word.size() <= always_held || read_integer(word) ? Word::integer : Word::beyond;
}

Word number_word(std::string_view word) {
    std::size_t at = 0;
    if (const int base = base_of(word); base != 10) {
        at = 2;
        return take_figures(word, at, base) && at == word.size() ? integer_or_beyond(word) : Word::nonsense;
    }
    if (at < word.size() && (word[at] == '+' || word[at] == '-')) ++at;
    if (word.substr(at) == "inf" || word.substr(at) == "nan") return Word::number;
    const std::size_t whole = at;
    bool is_whole = true, has_exponent = false;
    if (!take_figures(word, at, 10)) return Word::nonsense;
    if (at - whole > 1 && word[whole] == '0') return Word::nonsense;
    if (at < word.size() && word[at] == '.') {
        is_whole = false;
        ++at;
        if (!take_figures(word, at, 10)) return Word::nonsense;
    }
    if (at < word.size() && (word[at] == 'e' || word[at] == 'E')) {
        is_whole = false;
        has_exponent = true;
        ++at;
        if (at < word.size() && (word[at] == '+' || word[at] == '-')) ++at;
        if (!take_figures(word, at, 10)) return Word::nonsense;
    }
    if (at != word.size()) return Word::nonsense;
    if (is_whole) return integer_or_beyond(word);
    return has_exponent && !read_number(word) ? Word::beyond : Word::number;
}

// Reads a moment from the left; each part says whether it was there whole.
class MomentReader {
  public:
    explicit MomentReader(std::string_view word) : word_(word) {}

    std::optional<Moment> read() {
        Moment out;
        const bool begins_with_date = word_.size() > 4 && word_[4] == '-';
        if (begins_with_date) {
            if (!date(out.date.emplace())) return std::nullopt;
            if (at_ == word_.size()) return out;
            if (const char c = word_[at_++]; c != 'T' && c != 't' && c != ' ') return std::nullopt;
        }
        if (!time(out.time.emplace())) return std::nullopt;
        if (begins_with_date && at_ < word_.size() && !offset(out.offset.emplace())) return std::nullopt;
        return at_ == word_.size() ? std::optional(out) : std::nullopt;
    }

  private:
    bool figures(int count, int& value) {
        value = 0;
        for (int i = 0; i < count; ++i, ++at_) {
            if (at_ >= word_.size() || !is_figure(word_[at_])) return false;
            value = value * 10 + (word_[at_] - '0');
        }
        return true;
    }
    bool take(char c) { return at_ < word_.size() && word_[at_] == c && ++at_; }

    bool date(Date& out) {
        if (!figures(4, out.year) || !take('-') || !figures(2, out.month) || !take('-') ||
            !figures(2, out.day))
            return false;
        constexpr std::array days{31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31};
        if (out.month < 1 || out.month > 12) return false;
        const bool leap = out.year % 4 == 0 && (out.year % 100 != 0 || out.year % 400 == 0);
        const int last = days[static_cast<std::size_t>(out.month) - 1] + (leap && out.month == 2 ? 1 : 0);
        return out.day >= 1 && out.day <= last;
    }

    bool time(Time& out) {
        if (!figures(2, out.hour) || !take(':') || !figures(2, out.minute) || !take(':') ||
            !figures(2, out.second))
            return false;
        if (out.hour > 23 || out.minute > 59 || out.second > 59) return false;
        if (!take('.')) return true;
        const std::size_t begin = at_;
        for (int scale = 100'000'000; at_ < word_.size() && is_figure(word_[at_]); ++at_, scale /= 10)
            out.nanosecond += (word_[at_] - '0') * scale;
        return at_ > begin;
    }

    bool offset(int& minutes) {
        minutes = 0;
        if (take('Z') || take('z')) return true;
        const bool behind = at_ < word_.size() && word_[at_] == '-';
        int hour = 0, minute = 0;
        if (!take('+') && !take('-')) return false;
        if (!figures(2, hour) || !take(':') || !figures(2, minute) || hour > 23 || minute > 59) return false;
        minutes = (behind ? -1 : 1) * (hour * 60 + minute);
        return true;
    }

    std::string_view word_;
    std::size_t at_ = 0;
};

bool is_date(std::string_view word) {
    constexpr std::string_view form = "0000-00-00";
    if (word.size() < form.size()) return false;
    for (std::size_t i = 0; i < form.size(); ++i)
        if (form[i] == '-' ? word[i] != '-' : !is_figure(word[i])) return false;
    return true;
}

bool is_word_letter(char c) {
    return is_key_letter(c) || c == '.' || c == '+' || c == ':';
}

}  // namespace

Word kind_of_word(std::string_view word) {
    if (word.empty() || word.size() > max_word) return Word::nonsense;
    if (word == "true" || word == "false") return Word::flag;
    if (const Word number = number_word(word); number != Word::nonsense) return number;
    return MomentReader(word).read() ? Word::moment : Word::nonsense;
}

std::int64_t integer_of(std::string_view word) {
    return read_integer(word).value_or(0);
}

double number_of(std::string_view word) {
    const bool negative = word.starts_with('-');
    const auto unsigned_word = word.substr(negative || word.starts_with('+') ? 1 : 0);
    if (unsigned_word == "inf" || unsigned_word == "nan") {
        const double value = unsigned_word == "inf" ? std::numeric_limits<double>::infinity()
                                                    : std::numeric_limits<double>::quiet_NaN();
        return negative ? -value : value;
    }
    return read_number(word).value_or(0);
}

Moment moment_of(std::string_view word) {
    return MomentReader(word).read().value_or(Moment{});
}

std::size_t word_end(std::string_view text, std::size_t at) {
    const std::size_t begin = at;
    while (at < text.size() && is_word_letter(text[at])) ++at;
    constexpr std::size_t date_size = 10;
    const bool time_follows = at - begin == date_size && at + 1 < text.size() && text[at] == ' ' &&
                              is_figure(text[at + 1]) && is_date(text.substr(begin, date_size));
    if (!time_follows) return at;
    ++at;
    while (at < text.size() && is_word_letter(text[at])) ++at;
    return at;
}

}  // namespace seatwright::toml
