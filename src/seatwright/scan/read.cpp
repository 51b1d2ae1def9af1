#include "seatwright/scan/read.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cctype>
#include <cstdint>

#include "seatwright/scan/gather.hpp"
#include "seatwright/scan/ply.hpp"

namespace seatwright::scan {
namespace {

constexpr std::size_t stl_head = 84, stl_record = 50;

tl::unexpected<std::string> no(std::string why) {
    return tl::unexpected(std::move(why));
}

// Files that are plainly something else, by how they begin.
const char* something_else(std::string_view bytes) {
    using namespace std::string_view_literals;
    constexpr std::array<std::pair<std::string_view, const char*>, 10> known{{
        {"\xff\xd8\xff"sv, "a photograph (JPEG)"},
        {"\x89PNG\r\n"sv, "a picture (PNG)"},
        {"GIF8"sv, "a picture (GIF)"},
        {"BM"sv, "a picture (BMP)"},
        {"II*\0"sv, "a picture (TIFF)"},
        {"MM\0*"sv, "a picture (TIFF)"},
        {"%PDF"sv, "a PDF"},
        {"PK\x03\x04"sv, "a packed archive (ZIP): unpack it first"},
        {"\x1f\x8b"sv, "packed (gzip): unpack it first"},
        {"ISO-10303-21"sv, "a STEP model, which holds surfaces and no measured points"},
    }};
    for (const auto& [begins, what] : known)
        if (bytes.starts_with(begins)) return what;
    return nullptr;
}

bool ends_with(std::string_view name, std::string_view ending) {
    return name.size() >= ending.size() &&
           std::equal(ending.begin(), ending.end(), name.end() - static_cast<std::ptrdiff_t>(ending.size()),
                      [](char a, char b) { return a == std::tolower(static_cast<unsigned char>(b)); });
}

// Text has none of the bytes that no text has, in its beginning.
bool is_text(std::string_view bytes) {
    constexpr std::size_t look = 4096;
    return std::none_of(
        bytes.begin(), bytes.begin() + static_cast<std::ptrdiff_t>(std::min(look, bytes.size())),
        [](char c) { return c >= 0 && c < 32 && c != '\n' && c != '\r' && c != '\t' && c != '\f'; });
}

std::uint32_t stl_count(std::string_view bytes) {
    std::uint32_t out = 0;
    for (std::size_t i = 4; i-- > 0;) out = (out << 8) | static_cast<unsigned char>(bytes[stl_head - 4 + i]);
    return out;
}

Read binary_stl(std::string_view bytes, std::size_t triangles, const Watch& watch) {
    if (3 * triangles > most_points)
        return no(
            fmt::format("holds {} triangles; {} are read at most: thin them", triangles, most_points / 3));
    std::vector<Records> sets(3);
    for (std::size_t corner = 0; corner < 3; ++corner) {
        auto& set = sets[corner];
        set.first = bytes.data() + stl_head;
        set.count = triangles;
        set.stride = stl_record;
        const std::size_t at = 12 * (corner + 1);
        set.offset = {at, at + 4, at + 8};
    }
    Cloud out = gather(sets, watch);
    out.format = "binary STL";
    without_repeats(out, watch);
    return out;
}

Read text_stl(std::string_view bytes, const Watch& watch) {
    auto out = gather(Lines{bytes, "vertex", {0, 1, 2}, true}, watch);
    if (!out) return out;
    out->format = "text STL";
    if (out->in_file == 0) return no("is an STL file that holds no triangle");
    if (out->in_file % 3 != 0 ||
        bytes.find("endsolid", bytes.size() - std::min<std::size_t>(bytes.size(), 4096)) ==
            std::string_view::npos)
        return no(fmt::format("is cut short: {} corners of triangles, and no line 'endsolid' at its end",
                              out->in_file));
    without_repeats(*out, watch);
    return out;
}

// Lines before the first that has three numbers: a title, a count.
std::string_view past_title(std::string_view text) {
    constexpr int most_lines = 20;
    std::size_t pos = 0;
    for (int line = 0; line < most_lines && pos < text.size(); ++line) {
        const auto end = std::min(text.find('\n', pos), text.size());
        if (const auto one = gather(Lines{text.substr(pos, end - pos), "", {0, 1, 2}, true}, {});
            one && one->in_file == 1)
            return text.substr(pos);
        pos = end + 1;
    }
    return {};
}

Read text_points(std::string_view bytes, std::string_view name, const Watch& watch) {
    const auto first = bytes.find_first_not_of(" \t\r\n");
    const auto rest = first == std::string_view::npos ? std::string_view{} : bytes.substr(first);
    const bool vertices = bytes.find("\nv ") != std::string_view::npos || rest.starts_with("v ");
    if (ends_with(name, ".obj") || (vertices && !ends_with(name, ".xyz"))) {
        auto out = gather(Lines{bytes, "v", {0, 1, 2}, true}, watch);
        if (out) {
            out->format = "OBJ";
            if (out->in_file == 0) return no("is an OBJ file without points (no line 'v x y z')");
        }
        return out;
    }
    const auto points = past_title(bytes);
    if (points.empty())
        return no(
            "holds no points: STL, PLY, OBJ or lines of x y z were wanted, and none of its first lines has "
            "three numbers");
    auto out = gather(Lines{points, "", {0, 1, 2}, true}, watch);
    if (out) out->format = "list of x y z";
    return out;
}

Read read(std::string_view bytes, std::string_view name, const Watch& watch) {
    if (bytes.empty()) return no("is empty; points were wanted");
    if (bytes.size() >= stl_head && bytes.size() == stl_head + stl_record * std::size_t{stl_count(bytes)}) {
        if (stl_count(bytes) == 0) return no("is an STL file that holds no triangle");
        return binary_stl(bytes, stl_count(bytes), watch);
    }
    if (const char* what = something_else(bytes))
        return no(fmt::format("is {}; STL, PLY, OBJ or lines of x y z were wanted", what));
    if (bytes.starts_with("ply\n") || bytes.starts_with("ply\r\n")) return read_ply(bytes, watch);
    if (is_text(bytes)) {
        if (bytes.substr(0, 5) == "solid") return text_stl(bytes, watch);
        return text_points(bytes, name, watch);
    }
    if (bytes.size() < stl_head) return no("is no STL, PLY, OBJ or list of x y z: too short for any");
    if (ends_with(name, ".stl"))
        return no(fmt::format(
            "is a binary STL whose head says {} triangles, which take {} bytes; it has {}: it is "
            "cut short, or no STL",
            stl_count(bytes), stl_head + stl_record * std::size_t{stl_count(bytes)}, bytes.size()));
    return no("is neither STL nor PLY nor text with lines of x y z");
}

}  // namespace

Read read_points(std::string_view bytes, std::string_view name, const Watch& watch) {
    auto out = read(bytes, name, watch);
    if (!out) return out;
    if (out->points.empty())
        return no(fmt::format("holds {} points, and not one of them is a place: they are no numbers",
                              out->in_file));
    return out;
}

}  // namespace seatwright::scan
