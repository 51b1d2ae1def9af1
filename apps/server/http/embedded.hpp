// Files that are part of the binary.
#pragma once

#include <string_view>
#include <vector>

namespace seatwright::server {

struct EmbeddedFile {
    std::string_view name;  // from the top of the sources: "web/dist/index.html", "shop/shop.toml"
    std::string_view bytes;
};

// Generated at configure time.
const std::vector<EmbeddedFile>& embedded_files();

}  // namespace seatwright::server
