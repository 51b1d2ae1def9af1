// The head of a PLY file: which elements follow, of what numbers each is made.
#pragma once

#include <string>
#include <string_view>
#include <tl/expected.hpp>
#include <vector>

#include "seatwright/scan/gather.hpp"

namespace seatwright::scan {

struct PlyHead {
    struct Property {
        std::string name;
        Number number = Number::float32;
        bool list = false;
        Number counted_by = Number::uint8;
    };
    struct Element {
        std::string name;
        std::size_t count = 0;
        std::vector<Property> properties;
        bool lists() const;
        std::size_t stride() const;  // where it has no lists
    };
    enum class Form { text, little_end, big_end } form = Form::text;
    std::vector<Element> elements;
    std::size_t bytes = 0;  // of the head
};

// Error: a sentence without the file's name.
tl::expected<PlyHead, std::string> ply_head(std::string_view bytes);

// The points of the file as a whole.
tl::expected<Cloud, std::string> read_ply(std::string_view bytes, const Watch& watch);

}  // namespace seatwright::scan
