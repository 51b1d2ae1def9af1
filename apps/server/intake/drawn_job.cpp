#include "server/intake/drawn_job.hpp"

#include <fmt/format.h>

#include "seatwright/drawing/job_text.hpp"
#include "seatwright/store/photographs.hpp"
#include "server/http/call.hpp"
#include "server/jobs/on_the_shelf.hpp"

namespace seatwright::server {

std::string job_of_drawing(const Json& body, const std::string& shop) {
    const auto bytes = store::bytes_of_base64(text_field(body, "dxf"));
    if (!bytes) throw http_error(400, "dxf is a drawing in base64 (RFC 4648)");
    drawing::Told told;
    told.units = units_named(text_field_if(body, "units").value_or(""));
    told.end_for_end = flag_field(body, "end_for_end");
    told.from_above = flag_field(body, "from_above");
    const auto drawn = drawing::drawing_of(*bytes, text_field(body, "file"), told);
    if (!drawn) {
        const Fault& first = drawn.error().front();
        throw http_error(422,
                         first.line > 0 ? fmt::format("{}, line {}: {}", first.file, first.line, first.text)
                                        : fmt::format("{} {}", first.file, first.text),
                         drawn.error());
    }
    return take(on_the_shelf(drawing::job_text(*drawn, {"shelf", first_fixture(shop)}), shop));
}

}  // namespace seatwright::server
