// Readers of measured surfaces: every format gives the points back, and every bad file is refused in a
// sentence, quickly and without room for what it only claims. Formats from memory of their public
// descriptions: STL (80 bytes, count, 50 a triangle), PLY 1.0, OBJ.
#include "seatwright/scan/read.hpp"

#include <gtest/gtest.h>
#include <sys/resource.h>

#include "scan/files.hpp"
#include "scan/scene.hpp"

namespace seatwright::scan {
namespace {

std::vector<Vec3> some_points(std::size_t count = 3000) {
    made::Rng rng(7);
    std::vector<Vec3> out;
    for (std::size_t i = 0; i < count; ++i)
        // No two alike along x, so that what comes back can be put side by side.
        out.emplace_back(900 + 0.13 * static_cast<double>(i * 7919 % count), made::evenly(rng, -80, 80),
                         made::evenly(rng, -60, 5));
    return out;
}

// Set against set: STL's reader may tell corners in another order.
void expect_points(const Read& read, std::vector<Vec3> wanted, const std::string& format) {
    ASSERT_TRUE(read.has_value()) << format << ": " << read.error();
    EXPECT_EQ(read->format, format);
    ASSERT_EQ(read->points.size(), wanted.size());
    std::vector<Vec3> got;
    for (const auto& p : read->points) got.push_back(p.vec() + read->centre);
    const auto before = [](const Vec3& a, const Vec3& b) { return a.x() < b.x(); };
    std::sort(got.begin(), got.end(), before);
    std::sort(wanted.begin(), wanted.end(), before);
    double worst = 0;
    for (std::size_t i = 0; i < got.size(); ++i)
        worst = std::max(worst, (got[i] - wanted[i]).cwiseAbs().maxCoeff());
    EXPECT_LT(worst, 1e-4) << format;
}

TEST(Read, EveryFormatGivesThePointsBack) {
    const auto points = some_points();
    expect_points(read_points(made::as_xyz(points), "a.xyz"), points, "list of x y z");
    expect_points(read_points("x,y,z\n" + made::as_xyz(points, ","), "a.csv"), points, "list of x y z");
    expect_points(read_points("3000\n" + made::as_xyz(points, ";"), "a.txt"), points, "list of x y z");
    expect_points(read_points(made::as_obj(points), "a.obj"), points, "OBJ");
    expect_points(read_points(made::as_obj(points), "a.txt"), points, "OBJ");
    for (const bool doubles : {false, true})
        for (const bool list : {false, true}) {
            expect_points(read_points(made::as_ply(points, made::Ply::text, doubles, list), "a.ply"), points,
                          "text PLY");
            expect_points(read_points(made::as_ply(points, made::Ply::little, doubles, list), "a.ply"),
                          points, "binary PLY");
            expect_points(read_points(made::as_ply(points, made::Ply::big, doubles, list), "a.stl"), points,
                          "binary PLY (big end first)");
        }
    expect_points(read_points(made::as_text_stl(points), "a.stl"), points, "text STL");
    // "solid" at the head of a binary file says nothing: its size does.
    expect_points(read_points(made::as_stl(points), "a.stl"), points, "binary STL");
}

TEST(Read, ACornerNamedAgainIsOnePoint) {
    const auto points = some_points();
    const auto read = read_points(made::as_stl(points), "a.stl");
    ASSERT_TRUE(read);
    EXPECT_EQ(read->in_file, 2 * points.size());
    EXPECT_EQ(read->repeated, points.size());
}

TEST(Read, PointsThatCarryListsAreRead) {
    std::string ply =
        "ply\nformat binary_little_endian 1.0\nelement vertex 3\nproperty list uchar float more\n"
        "property float x\nproperty float y\nproperty float z\nend_header\n";
    for (int i = 0; i < 3; ++i) {
        made::put(ply, static_cast<std::uint8_t>(i));
        for (int k = 0; k < i; ++k) made::put(ply, 99.0F);
        for (const float v : {1.0F, 2.0F, 3.0F}) made::put(ply, v + static_cast<float>(10 * i));
    }
    expect_points(read_points(ply, "a.ply"), {{1, 2, 3}, {11, 12, 13}, {21, 22, 23}}, "binary PLY");
}

TEST(Read, WhatIsNoPlaceIsLeftOutAndCounted) {
    const auto read = read_points("1 2 3\nnan 0 0\n4 5 6\n1e300 0 0\n7 inf 8\n9 9 9\n", "a.xyz");
    ASSERT_TRUE(read);
    EXPECT_EQ(read->points.size(), 3U);
    EXPECT_EQ(read->not_numbers, 3U);
    const auto none = read_points("nan nan nan\nnan 1 2\n", "a.xyz");
    ASSERT_FALSE(none);
    EXPECT_NE(none.error().find("not one of them is a place"), std::string::npos);
}

TEST(Read, BadFilesAreRefusedInOneSentence) {
    using namespace std::string_literals;
    const auto points = some_points(300);
    const auto stl = made::as_stl(points);
    const auto ply = made::as_ply(points, made::Ply::little);
    auto lying = stl;
    const std::uint32_t billion = 1'000'000'000;
    std::memcpy(lying.data() + 80, &billion, sizeof billion);
    auto claims = ply;
    claims.replace(claims.find("vertex 300"), 10, "vertex 1000000000");
    std::string none(84, '\0');
    const std::vector<std::tuple<std::string, std::string, std::string>> bad{
        {"", "a.stl", "is empty"},
        {none, "a.stl", "holds no triangle"},
        {stl.substr(0, stl.size() - 7), "a.stl", "cut short"},
        {lying, "a.stl", "1000000000 triangles"},
        {"\xff\xd8\xff\xe0"s + std::string(5000, 'x') + '\0', "a.stl", "photograph"},
        {"\x89PNG\r\n\x1a\n"s + std::string(5000, '\0'), "a.ply", "picture"},
        {"PK\x03\x04"s + std::string(500, '\0'), "a.xyz", "unpack"},
        {ply.substr(0, ply.size() / 2), "a.ply", "cut short"},
        {claims, "a.ply", "1000000000 of 'vertex'"},
        {ply.substr(0, 60), "a.ply", "never ends"},
        {"ply\nformat ascii 1.0\nelement vertex 2\nproperty float x\nproperty float y\nproperty float "
         "z\nend_header\n1 2 3\n",
         "a.ply", "cut short"},
        {"ply\nformat ascii 1.0\nelement vertex 1\nproperty float x\nproperty float y\nend_header\n1 2\n",
         "a.ply", "no 'z'"},
        {"ply\nformat ascii 1.0\nelement vertex 1\nproperty real x\nend_header\n", "a.ply", "kind of number"},
        {"ply\nformat ascii 1.0\nelement face 1\nproperty list uchar int i\nend_header\n3 1 2 3\n", "a.ply",
         "without points"},
        {"ply\nformat ascii 1.0\nelement vertex 0\nproperty float x\nproperty float y\nproperty float "
         "z\nend_header\n",
         "a.ply", "0 points"},
        {"ply\nformat ascii 1.0\nelement vertex 99999999999999999999999\nend_header\n", "a.ply", "count"},
        {"1 2 3\n4 5\n", "a.xyz", "line 2"},
        {"1 2 3\n4 5 six\n", "a.xyz", "'4 5 six'"},
        {"Dear reader,\nthis is a letter.\n", "a.xyz", "three numbers"},
        {"solid x\nendsolid x\n", "a.stl", "no triangle"},
        {"solid x\nfacet\nouter loop\nvertex 1 2 3\nvertex 2 3 4\n", "a.stl", "cut short"},
        {"o x\nf 1 2 3\n", "a.obj", "without points"},
        {std::string(5000, '\x01'), "a.dat", "neither"},
    };
    for (const auto& [bytes, name, says] : bad) {
        const auto read = read_points(bytes, name);
        ASSERT_FALSE(read.has_value()) << says;
        EXPECT_NE(read.error().find(says), std::string::npos) << read.error();
        EXPECT_EQ(read.error().find('\n'), std::string::npos) << read.error();
        EXPECT_LT(read.error().size(), 300U) << read.error();
    }
    struct rusage used {};
    ::getrusage(RUSAGE_SELF, &used);
    EXPECT_LT(used.ru_maxrss, 600'000) << "kB: a claim of a thousand million points took room";
}

// Any file cut anywhere is refused or read, never read beyond its end (address checks find that).
TEST(Read, CutAnywhere) {
    const auto points = some_points(30);
    for (const auto& whole :
         {made::as_stl(points), made::as_ply(points, made::Ply::big, true, true),
          made::as_ply(points, made::Ply::text), made::as_obj(points), made::as_text_stl(points)})
        for (std::size_t n = 0; n < whole.size(); n += 7) {
            const std::vector<char> exactly(whole.begin(), whole.begin() + static_cast<std::ptrdiff_t>(n));
            const auto read = read_points({exactly.data(), n}, "a.ply");
            EXPECT_TRUE(read.has_value() || !read.error().empty());
        }
}

}  // namespace
}  // namespace seatwright::scan
