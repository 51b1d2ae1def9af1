#include "seatwright/job/file_names.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>

#include "seatwright/base/sha256.hpp"

namespace seatwright::job {

namespace {

constexpr std::size_t short_letters = 8, short_head = 3, made_letters = 5;
// Letters of later turns are b, c, d; f is the first seat's.
constexpr int last_short_turn = 3, last_short_number = 9;

std::string numbers_of_file(const FileOf& file) {
    std::string out = file.number > 0 ? fmt::format("{}", file.number) : std::string();
    if (file.turn > 0) out += static_cast<char>('a' + std::min(file.turn, 25));
    return out;
}

char kind_of(const FileOf& file) {
    if (file.draft) return 'd';
    if (!file.only.empty()) return 'o';
    return file.from ? 'r' : 'p';
}

bool plain(const std::string& words) {
    return std::all_of(words.begin(), words.end(), [](unsigned char c) { return std::isalnum(c) != 0; });
}

// Empty where it is too long, or may be read as another's.
std::string readable(const FileOf& file) {
    if (file.draft || file.head.size() > short_head || !plain(file.head) || !plain(file.setup) ||
        file.turn > last_short_turn || file.number > last_short_number)
        return {};
    std::string out = kind_of(file) + file.head + file.setup + numbers_of_file(file);
    for (const std::string& id : file.only) out += id;
    if (file.from) out += *file.from;
    if (file.first) out += 'f';
    return out.size() <= short_letters && plain(out) ? out : std::string();
}

std::string letters_from(const std::string& words) {
    constexpr std::string_view letters = "0123456789abcdefghijklmnopqrstuvwxyz";
    const auto hash = sha256_bytes(words);
    std::uint64_t rest = 0;
    for (std::size_t i = 0; i < sizeof rest; ++i) rest = rest << 8 | hash[i];
    std::string out;
    for (std::size_t i = 0; i < made_letters; ++i, rest /= letters.size())
        out += letters[rest % letters.size()];
    return out;
}

}  // namespace

std::string in_file_names(std::string_view words) {
    std::string out;
    for (const char c : words) out += std::isalnum(static_cast<unsigned char>(c)) != 0 ? c : '-';
    return out;
}

std::string without_case(std::string name) {
    std::transform(name.begin(), name.end(), name.begin(),
                   [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return name;
}

std::string long_name(const FileOf& file) {
    std::string out = fmt::format("program-{}-{}", in_file_names(file.head), in_file_names(file.setup));
    if (const std::string number = numbers_of_file(file); !number.empty()) out += "-" + number;
    if (file.from) out += "-from" + in_file_names(*file.from);
    if (!file.only.empty()) out += "-only";
    for (std::size_t i = 0; i < file.only.size(); ++i)
        out += (i > 0 ? "-" : "") + in_file_names(file.only[i]);
    if (file.first) out += "-first";
    if (file.draft) out += "-draft";
    return out;
}

std::string short_name(const FileOf& file) {
    if (std::string name = readable(file); !name.empty()) return name;
    const std::string setup = in_file_names(file.setup);
    std::string out = kind_of(file) + (setup.empty() ? std::string("-") : setup.substr(0, 1));
    out += letters_from(without_case(long_name(file)));
    if (file.first) out += 'f';
    return out;
}

}  // namespace seatwright::job
