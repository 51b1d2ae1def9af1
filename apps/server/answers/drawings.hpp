// Every drawing by its name: one table for the pages, the papers and the tests.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "seatwright/papers/page/svg.hpp"
#include "server/jobs/computation.hpp"

namespace seatwright::server {

struct DrawingQuery {
    std::string setup, kind, valve, what;  // empty = the first there is
    LengthUnit unit = LengthUnit::mm;
    std::string key() const;  // the same key draws the same
};

struct DrawingName {
    std::string name, stage, title;
    std::vector<std::string> takes;  // parameters beyond head and units
};

const std::vector<DrawingName>& drawing_names();
// The query without what that drawing does not take: no more keys than drawings. Throws HttpError 404.
DrawingQuery only_taken(const std::string& name, DrawingQuery query);
// Those that can be drawn now.
std::vector<DrawingName> drawings_of(Computation& computation);
// Throws HttpError: 404 no such drawing, setup or valve, 422 not to be drawn as things stand.
papers::Drawing draw(Computation& computation, const std::string& name, const DrawingQuery& query);

}  // namespace seatwright::server
