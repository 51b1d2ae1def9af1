#include "server/intake/shop_check.hpp"

#include "seatwright/job/reader.hpp"

namespace seatwright::server {

namespace {

// The least job there is; it takes nothing by name from the shop.
constexpr const char* least_job =
    "title = \"\"\nunits = \"mm\"\nshop = \"shelf\"\n[head]\nname = \"\"\n[[head.valve]]\nid = "
    "\"1I\"\ncylinder = 1\n"
    "kind = \"intake\"\nx = 0\ny = 0\nz = 0\n";

}  // namespace

Faults faults_of_shop(const std::string& text) {
    if (text.size() > job::max_file_bytes) return {{"shelf", 0, "", "has more than 16 MiB"}};
    Faults faults;
    const auto read = job::read_job(least_job, "job", [&](const std::string&) { return text; });
    if (read) return faults;
    for (const auto& fault : read.error())
        if (fault.file == "shelf") faults.push_back(fault);
    return faults;
}

}  // namespace seatwright::server
