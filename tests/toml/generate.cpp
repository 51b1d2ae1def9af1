#include "toml/generate.hpp"

#include <array>
#include <string_view>

namespace seatwright::toml::test {
namespace {

std::size_t below(Random& random, std::size_t count) {
    return std::uniform_int_distribution<std::size_t>(0, count - 1)(random);
}

template <std::size_t N>
std::string one_of(Random& random, const std::array<std::string_view, N>& all) {
    return std::string(all[below(random, N)]);
}

std::string blanks(Random& random) {
    return one_of<5>(random, {"", " ", " ", "\t", "  "});
}

std::string name(Random& random) {
    return one_of<12>(random,
                      {"a", "b", "c", "a", "b", "\"a\"", "'b'", "\"\"", "\"\\u0063\"", "1", "c-d", "'a.b'"});
}

std::string key(Random& random) {
    std::string out = name(random);
    for (std::size_t more = below(random, 6); more >= 4; --more)
        out += blanks(random) + "." + blanks(random) + name(random);
    return out;
}

std::string scalar(Random& random) {
    return one_of<56>(random, {"1",
                               "0",
                               "-17",
                               "+9_000",
                               "0x1F_a0",
                               "0o17",
                               "0b1_01",
                               "9223372036854775807",
                               "9223372036854775808",
                               "1.5",
                               "-0.0",
                               "6.02e23",
                               "1e-400",
                               "1e400",
                               "3_0.1_5",
                               "inf",
                               "-nan",
                               "0.1e+06",
                               "007",
                               "1.",
                               ".5",
                               "1__0",
                               "true",
                               "false",
                               "True",
                               "1979-05-27",
                               "07:32:00",
                               "1979-05-27T07:32:00.25Z",
                               "2000-02-29 23:59:59-07:30",
                               "1979-02-29",
                               "25:00:00",
                               "\"\"",
                               "\"plain\"",
                               "\"esc \\t \\\" \\\\ \\u00e9 \\U0001F600\"",
                               "\"bad \\x\"",
                               "\"\\uD800\"",
                               "''",
                               "'C:\\path'",
                               "\"\"\"\"\"\"",
                               "\"\"\"\nlong \\\n   joined\"\"\"",
                               "\"\"\"two\"\"\"\"\"",
                               "'''it's\r\n''two'''''",
                               "\"\"\"a\n\n# no comment\n[b]\nc = 1\n\"\"\"",
                               "\"é ü\"",
                               "'''\n'''",
                               "nan",
                               "+1.0",
                               "12 34",
                               "0e0",
                               "1e5",
                               "\"unclosed",
                               "\"\\\\\"",
                               "'\"'",
                               "0xdead_beef",
                               "-0",
                               "\"\\b\\f\\r\\n\""});
}

std::string space(Random& random) {
    return one_of<8>(random, {"", " ", " ", "\n", "\r\n  ", " # note ]\n", "\t", ""});
}

std::string list(Random& random, int depth) {
    std::string out = "[" + space(random);
    const std::size_t count = below(random, 4);
    for (std::size_t i = 0; i < count; ++i)
        out += value_text(random, depth - 1) + space(random) +
               (i + 1 < count || below(random, 4) == 0 ? "," : "") + space(random);
    return out + "]";
}

std::string inline_table(Random& random, int depth) {
    std::string out = "{" + blanks(random);
    const std::size_t count = below(random, 4);
    for (std::size_t i = 0; i < count; ++i)
        out += key(random) + blanks(random) + "=" + blanks(random) + value_text(random, depth - 1) +
               blanks(random) + (i + 1 < count || below(random, 40) == 0 ? "," : "") + blanks(random);
    return out + "}";
}

std::string statement(Random& random) {
    switch (below(random, 8)) {
        case 0:
            return "[" + blanks(random) + key(random) + blanks(random) + "]";
        case 1:
            return "[[" + key(random) + "]]";
        case 2:
            return one_of<4>(random, {"", "# a comment = [1", "   ", "\t# é"});
        default:
            return blanks(random) + key(random) + blanks(random) + "=" + blanks(random) +
                   value_text(random, 3);
    }
}

}  // namespace

std::string value_text(Random& random, int depth) {
    const std::size_t kind = below(random, 6);
    if (depth > 0 && kind == 0) return list(random, depth);
    if (depth > 0 && kind == 1) return inline_table(random, depth);
    return scalar(random);
}

std::string text_of_statements(Random& random, int statements) {
    std::string out = below(random, 20) == 0 ? "\xEF\xBB\xBF" : "";
    for (int i = 0; i < statements; ++i)
        out += statement(random) + one_of<4>(random, {"", "", " # why", "  "}) +
               one_of<4>(random, {"\n", "\n", "\r\n", "\n\n"});
    return out;
}

std::string damaged(Random& random, std::string text) {
    constexpr std::string_view letters = "[]{}=.,\"'#\\\n\r\t _-+:01aeTZ\x01\x7F\xC3\xA9";
    for (std::size_t changes = 1 + below(random, 3); changes > 0 && !text.empty(); --changes) {
        const std::size_t at = below(random, text.size());
        switch (below(random, 4)) {
            case 0:
                text.insert(at, 1, letters[below(random, letters.size())]);
                break;
            case 1:
                text.erase(at, 1 + below(random, 3));
                break;
            case 2:
                text.insert(at, text.substr(at, 1 + below(random, 4)));
                break;
            default:
                text.resize(at);
        }
    }
    return text;
}

}  // namespace seatwright::toml::test
