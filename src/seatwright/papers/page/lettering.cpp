#include "seatwright/papers/page/lettering.hpp"

#include <array>
#include <cstddef>

namespace seatwright::papers {

namespace {

// Advance widths of the ASCII characters 32…126 in 1/2048 of the size, from the horizontal metrics table of
// DejaVu Sans and DejaVu Sans Bold 2.37 (Debian package fonts-dejavu-core).
constexpr double units_per_size = 2048;
constexpr std::array<short, 95> plain_widths{
    651,  821,  942,  1716, 1303, 1946, 1597, 563,  799,  799,  1024, 1716, 651,  739,  651,  690,
    1303, 1303, 1303, 1303, 1303, 1303, 1303, 1303, 1303, 1303, 690,  690,  1716, 1716, 1716, 1087,
    2048, 1401, 1405, 1430, 1577, 1294, 1178, 1587, 1540, 604,  604,  1343, 1141, 1767, 1532, 1612,
    1235, 1612, 1423, 1300, 1251, 1499, 1401, 2025, 1403, 1251, 1403, 799,  690,  799,  1716, 1024,
    1024, 1255, 1300, 1126, 1300, 1260, 721,  1300, 1298, 569,  569,  1186, 569,  1995, 1298, 1253,
    1300, 1300, 842,  1067, 803,  1298, 1212, 1675, 1212, 1212, 1075, 1303, 690,  1303, 1716};
constexpr std::array<short, 95> bold_widths{
    713,  934,  1067, 1716, 1425, 2052, 1786, 627,  936,  936,  1071, 1716, 778,  850,  778,  748,
    1425, 1425, 1425, 1425, 1425, 1425, 1425, 1425, 1425, 1425, 819,  819,  1716, 1716, 1716, 1188,
    2048, 1585, 1561, 1503, 1700, 1399, 1399, 1681, 1714, 762,  762,  1587, 1305, 2038, 1714, 1741,
    1501, 1741, 1577, 1475, 1397, 1663, 1585, 2259, 1579, 1483, 1485, 936,  748,  936,  1716, 1024,
    1024, 1382, 1466, 1214, 1466, 1389, 891,  1466, 1458, 702,  702,  1362, 702,  2134, 1458, 1407,
    1466, 1466, 1010, 1219, 979,  1458, 1335, 1892, 1321, 1335, 1192, 1458, 748,  1458, 1716};
constexpr double other_width = 1300;  // a lower-case letter's

bool continues(char c) {
    return (static_cast<unsigned char>(c) & 0xC0) == 0x80;  // second and later bytes of one UTF-8 character
}

// In 1/2048 of the size: whole numbers, so that sums of them are exact.
double units_of(std::string_view words, Face face) {
    const auto& widths = face == Face::bold ? bold_widths : plain_widths;
    double sum = 0;
    for (const char c : words) {
        const auto code = static_cast<unsigned char>(c);
        if (continues(c)) continue;
        sum += code >= 32 && code < 127 ? widths[code - 32u] : other_width;
    }
    return sum;
}

}  // namespace

double words_width(std::string_view words, double size, Face face) {
    return units_of(words, face) * size / units_per_size;
}

std::vector<std::string> wrapped_lines(std::string_view words, double width, double size, Face face) {
    std::vector<std::string> lines;
    std::string line;
    const double blank = units_of(" ", face);
    double units = 0;  // of the line
    std::size_t at = 0;
    while (at < words.size()) {
        std::size_t end = words.find(' ', at);
        if (end == std::string_view::npos) end = words.size();
        const std::string_view word = words.substr(at, end - at);
        at = end + 1;
        if (word.empty()) continue;
        const double of_word = units_of(word, face);
        const double longer = line.empty() ? of_word : units + blank + of_word;
        if (!line.empty() && longer * size / units_per_size > width) {
            lines.push_back(line);
            line = word;
            units = of_word;
        } else {
            (line += line.empty() ? "" : " ") += word;
            units = longer;
        }
    }
    if (!line.empty()) lines.push_back(line);
    return lines;
}

std::string fitted(std::string_view words, double width, double size, Face face) {
    if (words_width(words, size, face) <= width) return std::string(words);
    std::string out(words);
    while (!out.empty() && words_width(out + "…", size, face) > width) {
        while (!out.empty() && continues(out.back())) out.pop_back();
        if (!out.empty()) out.pop_back();
    }
    return out + "…";
}

}  // namespace seatwright::papers
