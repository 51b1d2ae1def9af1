#include "seatwright/scan/gather.hpp"

#include <fmt/format.h>
#include <sys/mman.h>

#include <algorithm>
#include <bit>
#include <charconv>
#include <cmath>
#include <cstdint>
#include <limits>
#include <mutex>

namespace seatwright::scan {
namespace {

template <class T>
T raw(const char* at, bool big_end) {
    std::array<char, sizeof(T)> bytes;
    std::memcpy(bytes.data(), at, sizeof(T));
    if (big_end) std::reverse(bytes.begin(), bytes.end());
    return std::bit_cast<T>(bytes);
}

bool is_place(double x, double y, double z) {
    return std::abs(x) < beyond && std::abs(y) < beyond &&
           std::abs(z) < beyond;  // false of what is no number
}

Point about(const Vec3& centre, double x, double y, double z) {
    return {static_cast<float>(x - centre.x()), static_cast<float>(y - centre.y()),
            static_cast<float>(z - centre.z())};
}

// The middle one of each coordinate of a few.
Vec3 middle(std::vector<Vec3> few) {
    Vec3 out = Vec3::Zero();
    if (few.empty()) return out;
    const auto half = few.begin() + static_cast<std::ptrdiff_t>(few.size() / 2);
    for (int axis = 0; axis < 3; ++axis) {
        std::nth_element(few.begin(), half, few.end(),
                         [&](const Vec3& a, const Vec3& b) { return a[axis] < b[axis]; });
        out[axis] = (*half)[axis];
    }
    return out;
}

constexpr std::size_t few_points = 1001;

// Parts wrote their points from where each begins; now they follow each other.
void close_up(Points& points, const std::vector<Part>& parts, const std::vector<std::size_t>& good) {
    std::size_t at = 0;
    for (const auto& part : parts) {
        if (at != part.begin)
            std::memmove(points.begin() + at, points.begin() + part.begin, good[part.number] * sizeof(Point));
        at += good[part.number];
    }
    points.shrink(at);
}

Vec3 place(const Records& set, std::size_t i) {
    const char* at = set.first + i * set.stride;
    return {number_at(at + set.offset[0], set.number[0], set.big_end),
            number_at(at + set.offset[1], set.number[1], set.big_end),
            number_at(at + set.offset[2], set.number[2], set.big_end)};
}

bool plain_floats(const Records& set) {
    return !set.big_end &&
           std::all_of(set.number.begin(), set.number.end(), [](Number n) { return n == Number::float32; });
}

// Has the system lay a mapped file's pages ready, many at a time: a first touch of each costs more than what
// is read of it. What is no mapped file stays as it is.
void lay_ready(const std::vector<Records>& sets, const Watch& watch, double share) {
    constexpr std::size_t page = 4096, at_once = 1U << 22;
    for (const auto& set : sets) {
        const auto parts = parts_of(set.count * set.stride, at_once);
        in_parts(parts, {watch, Step::reading, 0, share}, [&](const Part& part) {
            const auto from =
                (reinterpret_cast<std::uintptr_t>(set.first) + part.begin + page - 1) / page * page;
            const auto to = (reinterpret_cast<std::uintptr_t>(set.first) + part.end) / page * page;
            if (to > from) ::madvise(reinterpret_cast<void*>(from), to - from, MADV_POPULATE_READ);
        });
    }
}

// ------------------------------------------------------------------------------------------------ lines
bool is_gap(char c) {
    return c == ' ' || c == '\t' || c == ',' || c == ';' || c == '\r';
}

// The next word of a line.
std::string_view word(std::string_view& line) {
    while (!line.empty() && is_gap(line.front())) line.remove_prefix(1);
    std::size_t n = 0;
    while (n < line.size() && !is_gap(line[n])) ++n;
    const auto out = line.substr(0, n);
    line.remove_prefix(n);
    return out;
}

bool number_of(std::string_view text, double& value) {
    if (text.starts_with('+')) text.remove_prefix(1);
    const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (error == std::errc::result_out_of_range) value = std::numeric_limits<double>::infinity();
    return !text.empty() && end == text.data() + text.size();
}

enum class LineIs { point, nothing, wrong };

LineIs point_of(const Lines& lines, std::string_view line, std::array<double, 3>& out) {
    while (!line.empty() && is_gap(line.front())) line.remove_prefix(1);
    if (line.empty() || line.front() == '#') return LineIs::nothing;
    if (!lines.before.empty()) {
        if (!line.starts_with(lines.before)) return LineIs::nothing;
        line.remove_prefix(lines.before.size());
        if (line.empty() || !is_gap(line.front())) return LineIs::nothing;
    }
    const std::size_t last = *std::max_element(lines.column.begin(), lines.column.end());
    for (std::size_t column = 0; column <= last; ++column) {
        const auto text = word(line);
        for (std::size_t axis = 0; axis < 3; ++axis)
            if (lines.column[axis] == column && !number_of(text, out[axis])) return LineIs::wrong;
    }
    return LineIs::point;
}

// Calls use(line) for the lines that begin in [begin, end); stops where it gives false.
template <class Use>
void each_line(std::string_view text, std::size_t begin, std::size_t end, const Use& use) {
    if (begin > 0) {
        const auto* before =
            static_cast<const char*>(std::memchr(text.data() + begin - 1, '\n', text.size() - begin + 1));
        begin = before == nullptr ? text.size() : static_cast<std::size_t>(before - text.data()) + 1;
    }
    while (begin < end) {
        const auto* stop =
            static_cast<const char*>(std::memchr(text.data() + begin, '\n', text.size() - begin));
        const std::size_t n =
            stop == nullptr ? text.size() - begin : static_cast<std::size_t>(stop - text.data()) - begin;
        if (!use(text.substr(begin, n), begin)) return;
        begin += n + 1;
    }
}

std::string shown(std::string_view line) {
    constexpr std::size_t most = 40;
    std::string out;
    for (const char c : line.substr(0, most))
        out += static_cast<unsigned char>(c) < 0x20 || static_cast<unsigned char>(c) > 0x7e ? '?' : c;
    return line.size() > most ? out + "…" : out;
}

}  // namespace

std::size_t size_of(Number number) {
    switch (number) {
        case Number::int8:
        case Number::uint8:
            return 1;
        case Number::int16:
        case Number::uint16:
            return 2;
        case Number::float64:
            return 8;
        default:
            return 4;
    }
}

double number_at(const char* at, Number number, bool big_end) {
    switch (number) {
        case Number::int8:
            return raw<std::int8_t>(at, big_end);
        case Number::uint8:
            return raw<std::uint8_t>(at, big_end);
        case Number::int16:
            return raw<std::int16_t>(at, big_end);
        case Number::uint16:
            return raw<std::uint16_t>(at, big_end);
        case Number::int32:
            return raw<std::int32_t>(at, big_end);
        case Number::uint32:
            return raw<std::uint32_t>(at, big_end);
        case Number::float32:
            return static_cast<double>(raw<float>(at, big_end));
        case Number::float64:
            break;
    }
    return raw<double>(at, big_end);
}

Cloud gather(const std::vector<Records>& sets, const Watch& watch) {
    Cloud out;
    std::vector<Vec3> few;
    constexpr double ready = 0.3;  // of the time
    lay_ready(sets, watch, ready);
    for (const auto& set : sets) {
        out.in_file += set.count;
        const std::size_t step = std::max<std::size_t>(1, set.count / few_points);
        for (std::size_t i = 0; i < set.count; i += step)
            if (const Vec3 p = place(set, i); is_place(p.x(), p.y(), p.z())) few.push_back(p);
    }
    out.centre = middle(std::move(few));
    // Of sets one beside the other: record i of set s is point s·count + i.
    out.points = Points(out.in_file);
    const std::size_t count = sets.empty() ? 0 : sets.front().count;
    const auto parts = parts_of(out.in_file);
    std::vector<std::size_t> good(parts.size());
    in_parts(parts, {watch, Step::reading, ready, 1}, [&](const Part& part) {
        Point* to = out.points.begin() + part.begin;
        for (std::size_t i = part.begin; i < part.end;) {
            const Records& set = sets[i / count];
            const std::size_t end = std::min(part.end, (i / count + 1) * count);
            const bool plain = plain_floats(set);
            for (; i < end; ++i) {
                Vec3 p;
                if (plain) {
                    const char* at = set.first + i % count * set.stride;
                    for (std::size_t axis = 0; axis < 3; ++axis)
                        p[static_cast<Eigen::Index>(axis)] =
                            static_cast<double>(raw<float>(at + set.offset[axis], false));
                } else {
                    p = place(set, i % count);
                }
                if (is_place(p.x(), p.y(), p.z())) *to++ = about(out.centre, p.x(), p.y(), p.z());
            }
        }
        good[part.number] = static_cast<std::size_t>(to - (out.points.begin() + part.begin));
    });
    close_up(out.points, parts, good);
    out.not_numbers = out.in_file - out.points.size();
    return out;
}

tl::expected<Cloud, std::string> gather(const Lines& lines, const Watch& watch) {
    constexpr std::size_t least_text = 1 << 18;
    const auto parts = parts_of(lines.text.size(), least_text);
    std::vector<std::vector<Vec3>> few(parts.size());
    std::vector<std::size_t> most(parts.size()), wrong(parts.size(), std::string_view::npos);
    constexpr double counting = 0.15;  // of the time
    in_parts(parts, {watch, Step::reading, 0, counting}, [&](const Part& part) {
        const std::size_t look = few_points / parts.size() + 1;
        each_line(lines.text, part.begin, part.end, [&](std::string_view line, std::size_t) {
            if (few[part.number].size() < look) {
                std::array<double, 3> p{};
                if (point_of(lines, line, p) == LineIs::point && is_place(p[0], p[1], p[2]))
                    few[part.number].emplace_back(p[0], p[1], p[2]);
            }
            ++most[part.number];
            return true;
        });
    });
    Cloud out;
    std::vector<Vec3> all;
    std::vector<Part> room(parts.size());
    std::size_t total = 0;
    for (std::size_t i = 0; i < parts.size(); ++i) {
        all.insert(all.end(), few[i].begin(), few[i].end());
        room[i] = {i, total, total + most[i]};
        total += most[i];
    }
    out.centre = middle(std::move(all));
    out.points = Points(total);
    std::vector<std::size_t> good(parts.size()), read(parts.size());
    in_parts(parts, {watch, Step::reading, counting, 1}, [&](const Part& part) {
        Point* to = out.points.begin() + room[part.number].begin;
        Point* const first = to;
        each_line(lines.text, part.begin, part.end, [&](std::string_view line, std::size_t at) {
            std::array<double, 3> p{};
            const LineIs is = point_of(lines, line, p);
            if (is == LineIs::wrong) {
                if (wrong[part.number] == std::string_view::npos) wrong[part.number] = at;
                return !lines.every;
            }
            if (is != LineIs::point) return true;
            ++read[part.number];
            if (is_place(p[0], p[1], p[2])) *to++ = about(out.centre, p[0], p[1], p[2]);
            return true;
        });
        good[part.number] = static_cast<std::size_t>(to - first);
    });
    for (std::size_t i = 0; i < parts.size(); ++i)
        if (wrong[i] != std::string_view::npos) {
            const auto line = lines.text.substr(wrong[i], lines.text.find('\n', wrong[i]) - wrong[i]);
            const auto number =
                1 + std::count(lines.text.begin(), lines.text.begin() + static_cast<std::ptrdiff_t>(wrong[i]),
                               '\n');
            return tl::unexpected(
                fmt::format("has no point in line {} of its {}: '{}'; three numbers x y z were wanted",
                            number, lines.before.empty() ? "points" : "text", shown(line)));
        }
    close_up(out.points, room, good);
    for (const std::size_t n : read) out.in_file += n;
    out.not_numbers = out.in_file - out.points.size();
    return out;
}

void without_repeats(Cloud& cloud, const Watch& watch) {
    Points& points = cloud.points;
    constexpr std::size_t shares = 16;
    std::vector<unsigned char> again(points.size());
    const auto hash_of = [&](std::size_t i) {
        std::uint64_t h = 0x9e3779b97f4a7c15ULL;
        for (const float f : {points[i].x, points[i].y, points[i].z}) {
            h ^= std::bit_cast<std::uint32_t>(f == 0 ? 0.0F : f);
            h *= 0xff51afd7ed558ccdULL;
            h ^= h >> 32;
        }
        return h;
    };
    std::vector<std::array<std::uint32_t, shares>> sizes(64);
    const auto parts = parts_of(points.size());
    in_parts(parts, [&](const Part& part) {
        sizes[part.number] = {};
        for (std::size_t i = part.begin; i < part.end; ++i) ++sizes[part.number][hash_of(i) % shares];
    });
    // Each share of the hashes is compared by one thread: the first in the file stays.
    std::atomic<std::size_t> done = 0;
    in_threads(shares, [&](std::size_t share) {
        if (watch) watch(Step::reading, static_cast<double>(done++) / shares);
        std::size_t size = 0;
        for (const auto& part : parts) size += sizes[part.number][share];
        const std::size_t room = std::bit_ceil(size + size / 2 + 2);
        std::vector<std::uint32_t> table(room);
        for (std::size_t i = 0; i < points.size(); ++i) {
            const auto h = hash_of(i);
            if (h % shares != share) continue;
            for (std::size_t at = h / shares % room;; at = (at + 1) % room) {
                if (table[at] == 0) {
                    table[at] = static_cast<std::uint32_t>(i + 1);
                    break;
                }
                const Point& other = points[table[at] - 1];
                if (other.x == points[i].x && other.y == points[i].y && other.z == points[i].z) {
                    again[i] = 1;
                    break;
                }
            }
        }
    });
    std::size_t to = 0;
    for (std::size_t i = 0; i < points.size(); ++i)
        if (again[i] == 0) points[to++] = points[i];
    cloud.repeated = points.size() - to;
    points.shrink(to);
}

}  // namespace seatwright::scan
