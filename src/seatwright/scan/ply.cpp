#include "seatwright/scan/ply.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <optional>

namespace seatwright::scan {
namespace {

constexpr std::size_t longest_head = 1 << 20, most_elements = 64, most_properties = 256;

using Failed = tl::unexpected<std::string>;

std::vector<std::string_view> words_of(std::string_view line) {
    std::vector<std::string_view> out;
    while (!line.empty()) {
        const auto begin = line.find_first_not_of(" \t\r");
        if (begin == std::string_view::npos) break;
        line.remove_prefix(begin);
        const auto end = std::min(line.find_first_of(" \t\r"), line.size());
        out.push_back(line.substr(0, end));
        line.remove_prefix(end);
    }
    return out;
}

std::optional<Number> number_named(std::string_view name) {
    constexpr std::array<std::pair<std::string_view, Number>, 16> names{{{"char", Number::int8},
                                                                         {"int8", Number::int8},
                                                                         {"uchar", Number::uint8},
                                                                         {"uint8", Number::uint8},
                                                                         {"short", Number::int16},
                                                                         {"int16", Number::int16},
                                                                         {"ushort", Number::uint16},
                                                                         {"uint16", Number::uint16},
                                                                         {"int", Number::int32},
                                                                         {"int32", Number::int32},
                                                                         {"uint", Number::uint32},
                                                                         {"uint32", Number::uint32},
                                                                         {"float", Number::float32},
                                                                         {"float32", Number::float32},
                                                                         {"double", Number::float64},
                                                                         {"float64", Number::float64}}};
    for (const auto& [known, number] : names)
        if (known == name) return number;
    return std::nullopt;
}

// One line of the head put into it; an error says what of it is not known.
std::optional<std::string> take_words(PlyHead& head, const std::vector<std::string_view>& words) {
    const auto& what = words[0];
    if (what == "comment" || what == "obj_info") return std::nullopt;
    if (what == "format" && words.size() >= 2) {
        if (words[1] == "ascii")
            head.form = PlyHead::Form::text;
        else if (words[1] == "binary_little_endian")
            head.form = PlyHead::Form::little_end;
        else if (words[1] == "binary_big_endian")
            head.form = PlyHead::Form::big_end;
        else
            return "format";
        return std::nullopt;
    }
    if (what == "element" && words.size() == 3 && head.elements.size() < most_elements) {
        std::size_t count = 0;
        const auto [end, error] = std::from_chars(words[2].data(), words[2].data() + words[2].size(), count);
        if (error != std::errc{} || end != words[2].data() + words[2].size()) return "count";
        head.elements.push_back({std::string(words[1]), count, {}});
        return std::nullopt;
    }
    if (what == "property" && !head.elements.empty() &&
        head.elements.back().properties.size() < most_properties) {
        const bool list = words.size() == 5 && words[1] == "list";
        if (!list && words.size() != 3) return "property";
        const auto counted = number_named(words[list ? 2 : 1]), number = number_named(words[list ? 3 : 1]);
        if (!counted || !number) return "kind of number";
        head.elements.back().properties.push_back({std::string(words.back()), *number, list, *counted});
        return std::nullopt;
    }
    return "line";
}

// Past one record with lists, or none where the file ends in it. `at` each: where its properties begin.
template <class At>
std::optional<std::size_t> past(std::string_view bytes, std::size_t pos, const PlyHead::Element& element,
                                bool big_end, const At& at) {
    for (std::size_t i = 0; i < element.properties.size(); ++i) {
        const auto& p = element.properties[i];
        std::size_t n = size_of(p.number);
        if (p.list) {
            const std::size_t wide = size_of(p.counted_by);
            if (bytes.size() - pos < wide) return std::nullopt;
            const double count = number_at(bytes.data() + pos, p.counted_by, big_end);
            pos += wide;
            if (!(count >= 0) || count > static_cast<double>(bytes.size())) return std::nullopt;
            n *= static_cast<std::size_t>(count);
        }
        if (bytes.size() - pos < n) return std::nullopt;
        at(i, pos);
        pos += n;
    }
    return pos;
}

std::string too_short(const PlyHead::Element& element) {
    return fmt::format("is cut short: its head says {} of '{}', and it ends within them", element.count,
                       element.name);
}

tl::expected<Cloud, std::string> binary(std::string_view bytes, const PlyHead& head, std::size_t vertex,
                                        const std::array<std::size_t, 3>& axes, const Watch& watch) {
    // Records with lists are walked through one by one.
    const auto walked = [&](std::size_t i, std::size_t count) {
        constexpr std::size_t every = 1 << 16;
        if (watch && i % every == 0)
            watch(Step::reading, static_cast<double>(i) / static_cast<double>(count));
    };
    const bool big = head.form == PlyHead::Form::big_end;
    std::size_t pos = head.bytes;
    for (std::size_t e = 0; e <= vertex; ++e) {
        const auto& element = head.elements[e];
        if (element.lists() && e < vertex) {
            for (std::size_t i = 0; i < element.count; ++i) {
                walked(i, element.count);
                const auto next = past(bytes, pos, element, big, [](std::size_t, std::size_t) {});
                if (!next) return Failed(too_short(element));
                // Records of nothing would be counted for ever.
                if (*next == pos) break;
                pos = *next;
            }
            continue;
        }
        if (!element.lists()) {
            const std::size_t stride = element.stride();
            if (stride > 0 && element.count > (bytes.size() - pos) / stride)
                return Failed(
                    fmt::format("says that it holds {} of '{}' and has room for {}: it is cut short, "
                                "or its head is wrong",
                                element.count, element.name, (bytes.size() - pos) / stride));
            if (e < vertex) {
                pos += stride * element.count;
                continue;
            }
            Records set;
            set.first = bytes.data() + pos;
            set.count = element.count;
            set.stride = stride;
            set.big_end = big;
            for (std::size_t axis = 0; axis < 3; ++axis) {
                for (std::size_t p = 0; p < axes[axis]; ++p)
                    set.offset[axis] += size_of(element.properties[p].number);
                set.number[axis] = element.properties[axes[axis]].number;
            }
            return gather(std::vector{set}, watch);
        }
        // Points that carry lists: their places first.
        std::vector<Records> each;
        std::vector<double> xyz;
        for (std::size_t i = 0; i < element.count; ++i) {
            walked(i, element.count);
            std::array<double, 3> p{};
            const auto next = past(bytes, pos, element, big, [&](std::size_t property, std::size_t at) {
                for (std::size_t axis = 0; axis < 3; ++axis)
                    if (axes[axis] == property)
                        p[axis] = number_at(bytes.data() + at, element.properties[property].number, big);
            });
            if (!next) return Failed(too_short(element));
            pos = *next;
            xyz.insert(xyz.end(), p.begin(), p.end());
        }
        Records set;
        set.first = reinterpret_cast<const char*>(xyz.data());
        set.count = xyz.size() / 3;
        set.stride = 3 * sizeof(double);
        set.offset = {0, sizeof(double), 2 * sizeof(double)};
        set.number = {Number::float64, Number::float64, Number::float64};
        return gather(std::vector{set}, watch);
    }
    return Failed("holds no points");
}

tl::expected<Cloud, std::string> text(std::string_view bytes, const PlyHead& head, std::size_t vertex,
                                      const std::array<std::size_t, 3>& axes, const Watch& watch) {
    std::size_t pos = head.bytes;
    const auto past_lines = [&](std::size_t count) {
        for (std::size_t i = 0; i < count; ++i) {
            const auto end = bytes.find('\n', pos);
            if (pos >= bytes.size()) return false;
            pos = end == std::string_view::npos ? bytes.size() : end + 1;
        }
        return true;
    };
    for (std::size_t e = 0; e < vertex; ++e)
        if (!past_lines(head.elements[e].count)) return Failed(too_short(head.elements[e]));
    const std::size_t begin = pos;
    if (!past_lines(head.elements[vertex].count)) return Failed(too_short(head.elements[vertex]));
    const auto& properties = head.elements[vertex].properties;
    for (std::size_t p = 0; p < *std::max_element(axes.begin(), axes.end()); ++p)
        if (properties[p].list) return Failed("has a list before the points' x, y and z, which is not read");
    auto out = gather(Lines{bytes.substr(begin, pos - begin), "", axes, true}, watch);
    if (out && out->in_file != head.elements[vertex].count)
        return Failed(fmt::format("says that it holds {} of 'vertex' and has lines for {}",
                                  head.elements[vertex].count, out->in_file));
    return out;
}

}  // namespace

bool PlyHead::Element::lists() const {
    return std::any_of(properties.begin(), properties.end(), [](const Property& p) { return p.list; });
}

std::size_t PlyHead::Element::stride() const {
    std::size_t out = 0;
    for (const auto& p : properties) out += size_of(p.number);
    return out;
}

tl::expected<PlyHead, std::string> ply_head(std::string_view bytes) {
    PlyHead head;
    std::size_t pos = 0, line = 0;
    while (true) {
        const auto end = bytes.substr(0, longest_head).find('\n', pos);
        if (end == std::string_view::npos)
            return Failed("is a PLY file whose head never ends (no line end_header)");
        const auto words = words_of(bytes.substr(pos, end - pos));
        pos = end + 1;
        ++line;
        if (line == 1 || words.empty()) continue;
        if (words[0] == "end_header") break;
        if (const auto wrong = take_words(head, words))
            return Failed(
                fmt::format("is a PLY file with an unknown {} in line {} of its head", *wrong, line));
    }
    head.bytes = pos;
    return head;
}

tl::expected<Cloud, std::string> read_ply(std::string_view bytes, const Watch& watch) {
    const auto head = ply_head(bytes);
    if (!head) return Failed(head.error());
    std::size_t vertex = 0;
    while (vertex < head->elements.size() && head->elements[vertex].name != "vertex") ++vertex;
    if (vertex == head->elements.size()) return Failed("is a PLY file without points (no element 'vertex')");
    const auto& element = head->elements[vertex];
    std::array<std::size_t, 3> axes{};
    for (std::size_t axis = 0; axis < 3; ++axis) {
        const std::string name(1, static_cast<char>('x' + axis));
        std::size_t p = 0;
        while (p < element.properties.size() &&
               (element.properties[p].name != name || element.properties[p].list))
            ++p;
        if (p == element.properties.size())
            return Failed(fmt::format("is a PLY file whose points have no '{}'", name));
        axes[axis] = p;
    }
    if (element.count == 0) return Failed("is a PLY file that says it holds 0 points");
    if (element.count > most_points && head->form != PlyHead::Form::text && element.count <= bytes.size())
        return Failed(
            fmt::format("holds {} points; {} are read at most: thin them", element.count, most_points));
    auto out = head->form == PlyHead::Form::text ? text(bytes, *head, vertex, axes, watch)
                                                 : binary(bytes, *head, vertex, axes, watch);
    if (out)
        out->format = head->form == PlyHead::Form::text         ? "text PLY"
                      : head->form == PlyHead::Form::little_end ? "binary PLY"
                                                                : "binary PLY (big end first)";
    return out;
}

}  // namespace seatwright::scan
