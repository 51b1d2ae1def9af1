#include "seatwright/drawing/groups.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <cstring>

namespace seatwright::drawing {
namespace {

// A binary file begins with a name of eight letters and this.
constexpr std::string_view mark("Binary DXF\r\n\x1a\0", 14);
constexpr std::size_t before_mark = 8;
constexpr std::size_t places_told = 12;

std::string_view trimmed(std::string_view text) {
    const auto first = text.find_first_not_of(" \t");
    if (first == std::string_view::npos) return {};
    return text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

// What of a strange line can be shown.
std::string shown(std::string_view text) {
    constexpr std::size_t most = 24;
    std::string out(text.substr(0, most));
    std::replace_if(
        out.begin(), out.end(), [](char c) { return c < ' ' || c > '~'; }, '?');
    return out;
}

template <class T>
T little_endian(std::string_view bytes) {
    // Both machines this runs on keep numbers so; asserted here.
    static_assert(std::endian::native == std::endian::little);
    T out;
    std::memcpy(&out, bytes.data(), sizeof out);
    return out;
}

std::optional<double> number_of(std::string_view text) {
    text = trimmed(text);
    if (text.starts_with('+')) text.remove_prefix(1);
    double out = 0;
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), out);
    if (error != std::errc() || end != text.data() + text.size() || !std::isfinite(out)) return std::nullopt;
    return out;
}

// Bytes a binary number of that code takes.
std::size_t width_of(int code) {
    if (holds(code) == Holds::real) return 8;
    if (code >= 290 && code <= 299) return 1;
    if (code >= 160 && code <= 169) return 8;
    if ((code >= 90 && code <= 99) || (code >= 420 && code <= 429) || (code >= 440 && code <= 459) ||
        code == 1071)
        return 4;
    return 2;
}

}  // namespace

Holds holds(int code) {
    struct Range {
        int low, high;
        Holds what;
    };
    constexpr Range ranges[] = {
        {0, 9, Holds::text},       {10, 59, Holds::real},      {60, 99, Holds::whole},
        {100, 109, Holds::text},   {110, 149, Holds::real},    {160, 179, Holds::whole},
        {210, 239, Holds::real},   {270, 299, Holds::whole},   {300, 309, Holds::text},
        {310, 319, Holds::bytes},  {320, 369, Holds::text},    {370, 389, Holds::whole},
        {390, 399, Holds::text},   {400, 409, Holds::whole},   {410, 419, Holds::text},
        {420, 429, Holds::whole},  {430, 439, Holds::text},    {440, 459, Holds::whole},
        {460, 469, Holds::real},   {1004, 1004, Holds::bytes}, {1010, 1059, Holds::real},
        {1060, 1071, Holds::whole}};
    for (const auto& r : ranges)
        if (code >= r.low && code <= r.high) return r.what;
    return Holds::text;
}

Checked<Groups> Groups::open(std::string_view bytes, const std::string& file) {
    const auto no = [&](const std::string& text) { return tl::unexpected(Faults{{file, 0, "", text}}); };
    if (bytes.empty()) return no("is empty; a drawing in DXF is expected");
    Groups out;
    out.file_ = file;
    out.bytes_ = bytes;
    if (bytes.size() >= before_mark + mark.size() && bytes.substr(before_mark, mark.size()) == mark) {
        out.binary_ = true;
        out.at_ = before_mark + mark.size();
        // Old files have codes of one byte: "0 SECTION" begins 00 53, else 00 00 53.
        out.short_codes_ = out.at_ + 1 < bytes.size() && bytes[out.at_ + 1] != 0;
        out.finest_ = 0;
        return out;
    }
    if (bytes.starts_with("AC10"))
        return no("is a drawing in its program's own binary form; save it as DXF and name that file");
    if (bytes.starts_with("\xef\xbb\xbf")) out.at_ = 3;
    const auto first = bytes.substr(out.at_, 200);
    const auto code = trimmed(first.substr(0, first.find_first_of("\r\n")));
    int value = 0;
    const auto [end, error] = std::from_chars(code.data(), code.data() + code.size(), value);
    if (error != std::errc() || end != code.data() + code.size())
        return no(fmt::format("is not a DXF drawing: its first line is '{}', not a group code such as 0",
                              shown(code)));
    return out;
}

void Groups::fault(const std::string& text) {
    if (broken()) return;
    faults_.push_back(binary_ ? Fault{file_, 0, "", fmt::format("byte {}: {}", begin_, text)}
                              : Fault{file_, begin_line_, "", text});
}

std::string Groups::place() const {
    return binary_ ? fmt::format("byte {}", begin_) : fmt::format("line {}", begin_line_);
}

std::optional<CodedValue> Groups::next() {
    if (broken()) return std::nullopt;
    if (again_) {
        again_ = false;
        return last_;
    }
    while (true) {
        auto group = binary_ ? next_binary() : next_of_text();
        if (!group) return std::nullopt;
        if (group->code == 999) continue;  // a comment
        last_ = *group;
        return group;
    }
}

std::optional<std::string_view> Groups::line() {
    if (at_ >= bytes_.size()) return std::nullopt;
    const auto end = std::min(bytes_.find('\n', at_), bytes_.size());
    auto out = bytes_.substr(at_, end - at_);
    at_ = end + 1;
    ++line_;
    if (out.ends_with('\r')) out.remove_suffix(1);
    return out;
}

void Groups::note_place_of(std::string_view number) {
    if (number.find_first_of("eE") != std::string_view::npos) {
        finest_ = std::min(finest_, std::pow(10.0, -static_cast<double>(places_told)));
        return;
    }
    const auto point = number.find('.');
    if (point == std::string_view::npos) return;
    const auto last = number.find_last_not_of('0');
    if (last == point) return;
    finest_ = std::min(finest_, std::pow(10.0, -static_cast<double>(std::min(last - point, places_told))));
}

std::optional<CodedValue> Groups::next_of_text() {
    begin_line_ = line_ + 1;
    const auto code_line = line();
    if (!code_line) return std::nullopt;
    const auto code = trimmed(*code_line);
    CodedValue out;
    const auto [end, error] = std::from_chars(code.data(), code.data() + code.size(), out.code);
    if (code.empty() &&
        trimmed(bytes_.substr(std::min(at_, bytes_.size()))).find_first_not_of("\r\n \t\x1a") ==
            std::string_view::npos)
        return std::nullopt;  // blank lines at the end
    if (error != std::errc() || end != code.data() + code.size()) {
        fault(
            fmt::format("a group code (a whole number) is expected here, not '{}': the file is damaged or "
                        "no DXF",
                        shown(code)));
        return std::nullopt;
    }
    const auto value = line();
    if (!value) {
        fault("the file ends within a group: it was cut short");
        return std::nullopt;
    }
    out.text = *value;
    const auto what = holds(out.code);
    if (what == Holds::real || what == Holds::whole) {
        const auto number = number_of(*value);
        if (!number) {
            begin_line_ = line_;
            fault(
                fmt::format("a number is expected behind group code {}, not '{}'", out.code, shown(*value)));
            return std::nullopt;
        }
        out.number = *number;
        if ((out.code >= 10 && out.code < 40) || (out.code == 40 && round_)) note_place_of(*value);
    } else if (out.code == 0) {
        round_ = *value == "CIRCLE" || *value == "ARC";  // whose code 40 is a radius
    }
    return out;
}

std::optional<std::string_view> Groups::take(std::size_t count) {
    if (bytes_.size() - at_ < count) {
        fault("the file ends within a group: it was cut short, or is no DXF");
        return std::nullopt;
    }
    const auto out = bytes_.substr(at_, count);
    at_ += count;
    return out;
}

std::optional<CodedValue> Groups::next_binary() {
    begin_ = at_;
    if (at_ >= bytes_.size()) return std::nullopt;
    CodedValue out;
    const auto first = take(short_codes_ ? 1 : 2);
    if (!first) return std::nullopt;
    out.code = short_codes_ ? static_cast<unsigned char>((*first)[0]) : little_endian<std::int16_t>(*first);
    if (short_codes_ && out.code == 255) {
        const auto wide = take(2);
        if (!wide) return std::nullopt;
        out.code = little_endian<std::int16_t>(*wide);
    }
    switch (holds(out.code)) {
        case Holds::text: {
            const auto end = bytes_.find('\0', at_);
            if (end == std::string_view::npos) {
                fault("a text without its end: the file was cut short, or is no DXF");
                return std::nullopt;
            }
            out.text = bytes_.substr(at_, end - at_);
            at_ = end + 1;
            break;
        }
        case Holds::bytes: {
            const auto size = take(1);
            const auto chunk = size ? take(static_cast<unsigned char>((*size)[0])) : std::nullopt;
            if (!chunk) return std::nullopt;
            break;
        }
        case Holds::real: {
            const auto value = take(8);
            if (!value) return std::nullopt;
            out.number = little_endian<double>(*value);
            if (!std::isfinite(out.number)) {
                fault(fmt::format("the number behind group code {} is not finite", out.code));
                return std::nullopt;
            }
            break;
        }
        case Holds::whole: {
            const auto width = width_of(out.code);
            const auto value = take(width);
            if (!value) return std::nullopt;
            out.number = width == 1   ? static_cast<double>(static_cast<unsigned char>((*value)[0]))
                         : width == 2 ? static_cast<double>(little_endian<std::int16_t>(*value))
                         : width == 4 ? static_cast<double>(little_endian<std::int32_t>(*value))
                                      : static_cast<double>(little_endian<std::int64_t>(*value));
            break;
        }
    }
    return out;
}

}  // namespace seatwright::drawing
