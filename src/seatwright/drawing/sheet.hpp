// What a DXF file holds that can be a hole, a guide or a seat: its closed curves by block, its inserts, which
// layers show, and the unit it says it is drawn in. In the drawing's own unit; nothing of what they mean.
#pragma once

#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "seatwright/base/fault.hpp"
#include "seatwright/drawing/curve.hpp"

namespace seatwright::drawing {

struct Layer {
    bool frozen = false, off = false;
};

// A block set into the drawing or into another block, possibly many times in columns and rows.
struct Insert {
    std::string block, layer;
    Mat3 plane = Mat3::Identity();
    Vec3 at = Vec3::Zero(), scale = Vec3::Ones();  // `at` in the plane
    double turn = 0;                               // rad
    int columns = 1, rows = 1;
    double column_step = 0, row_step = 0;
    int line = 0;
};

struct Block {
    Vec3 base = Vec3::Zero();
    bool elsewhere = false;  // its drawing is another file
    std::vector<Curve> curves;
    std::vector<Insert> inserts;
};

struct Sheet {
    int unit = 0;                // $INSUNITS; 0: not said
    std::optional<bool> metric;  // $MEASUREMENT, a hint
    std::map<std::string, Layer> layers;
    std::map<std::string, Block> blocks;
    Block model;
    std::map<std::string, std::size_t> not_read;  // entities that can be no hole, by their kind
    std::size_t in_paper = 0, invisible = 0;      // entities of paper space; of their own set invisible
    double finest = 0;  // finest decimal place written, drawing units; 0: as fine as numbers are
};

// Error: one fault that says where the file stops being a drawing.
Checked<Sheet> read_sheet(std::string_view bytes, const std::string& file);

}  // namespace seatwright::drawing
