#include <array>
// Points written as files of every kind that is read. An own writer, so that the readers are held to the
// formats and not to themselves.
#pragma once

#include <bit>
#include <cstdint>
#include <cstring>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "seatwright/base/vec.hpp"

namespace seatwright::scan::made {

template <class T>
void put(std::string& out, T value, bool big_end = false) {
    std::string bytes(sizeof(T), '\0');
    std::memcpy(bytes.data(), &value, sizeof(T));
    if (big_end) bytes.assign(bytes.rbegin(), bytes.rend());
    out += bytes;
}

inline std::string as_xyz(const std::vector<Vec3>& points, const char* between = " ") {
    std::string out;
    for (const auto& p : points)
        out += fmt::format("{:.6f}{}{:.6f}{}{:.6f}\n", p.x(), between, p.y(), between, p.z());
    return out;
}

inline std::string as_obj(const std::vector<Vec3>& points) {
    std::string out = "# points\no head\n";
    for (const auto& p : points) out += fmt::format("v {:.6f} {:.6f} {:.6f}\n", p.x(), p.y(), p.z());
    out += "vn 0 0 1\nvt 0 0\nf 1/1/1 2/1/1 3/1/1\n";
    return out;
}

enum class Ply { text, little, big };

// x, y and z stand among others, of float or double, in no usual order; a list stands before the points.
inline std::string as_ply(const std::vector<Vec3>& points, Ply form, bool doubles = false,
                          bool list_before = false) {
    std::string out =
        fmt::format("ply\nformat {} 1.0\ncomment invented\n", form == Ply::text     ? "ascii"
                                                              : form == Ply::little ? "binary_little_endian"
                                                                                    : "binary_big_endian");
    const char* type = doubles ? "double" : "float";
    if (list_before) out += "element group 2\nproperty list uchar short members\n";
    out += fmt::format(
        "element vertex {}\nproperty uchar red\nproperty {} z\nproperty {} x\nproperty short "
        "quality\nproperty {} y\n"
        "element face 1\nproperty list uchar int vertex_indices\nend_header\n",
        points.size(), type, type, type);
    const bool big = form == Ply::big;
    const auto real = [&](double v) {
        if (form == Ply::text)
            out += fmt::format(" {:.6f}", v);
        else if (doubles)
            put(out, v, big);
        else
            put(out, static_cast<float>(v), big);
    };
    if (list_before) {
        if (form == Ply::text)
            out += "2 7 8\n0\n";
        else {
            put(out, std::uint8_t{2});
            put(out, std::int16_t{7}, big);
            put(out, std::int16_t{8}, big);
            put(out, std::uint8_t{0});
        }
    }
    for (const auto& p : points) {
        if (form == Ply::text)
            out += "200";
        else
            put(out, std::uint8_t{200});
        real(p.z());
        real(p.x());
        if (form == Ply::text)
            out += " -3";
        else
            put(out, std::int16_t{-3}, big);
        real(p.y());
        if (form == Ply::text) out += "\n";
    }
    if (form == Ply::text)
        out += "3 0 1 2\n";
    else {
        put(out, std::uint8_t{3});
        for (const std::int32_t i : {0, 1, 2}) put(out, i, big);
    }
    return out;
}

// Each point is a corner of two triangles, as a mesh has it of six.
inline std::string as_stl(const std::vector<Vec3>& points, const std::string& head = "solid invented") {
    std::string out = head;
    out.resize(80, ' ');
    std::vector<std::array<std::size_t, 3>> triangles;
    for (std::size_t i = 0; i + 2 < points.size(); i += 3) {
        triangles.push_back({i, i + 1, i + 2});
        triangles.push_back({i + 2, i + 1, i});
    }
    put(out, static_cast<std::uint32_t>(triangles.size()));
    for (const auto& t : triangles) {
        for (int k = 0; k < 3; ++k) put(out, 0.0F);
        for (const auto i : t)
            for (int axis = 0; axis < 3; ++axis) put(out, static_cast<float>(points[i][axis]));
        put(out, std::uint16_t{0});
    }
    return out;
}

inline std::string as_text_stl(const std::vector<Vec3>& points) {
    std::string out = "solid invented\n";
    for (std::size_t i = 0; i + 2 < points.size(); i += 3) {
        out += "  facet normal 0 0 1\n    outer loop\n";
        for (std::size_t k = i; k < i + 3; ++k)
            out += fmt::format("      vertex {:.6e} {:.6e} {:.6e}\n", points[k].x(), points[k].y(),
                               points[k].z());
        out += "    endloop\n  endfacet\n";
    }
    return out + "endsolid invented\n";
}

}  // namespace seatwright::scan::made
