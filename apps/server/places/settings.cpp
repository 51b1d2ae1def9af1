#include "server/places/settings.hpp"

#include <fmt/format.h>

#include <array>
#include <filesystem>
#include <utility>

#include "seatwright/place/termios_line.hpp"
#include "server/http/word_table.hpp"

namespace seatwright::server {

namespace {

namespace fs = std::filesystem;
using place::Handshake;

constexpr std::array<std::pair<Handshake, const char*>, 3> handshakes{
    {{Handshake::none, "none"}, {Handshake::xon_xoff, "xon/xoff"}, {Handshake::rts_cts, "rts/cts"}}};
constexpr std::array<std::pair<char, const char*>, 3> parities{{{'n', "none"}, {'e', "even"}, {'o', "odd"}}};

int count_if(const Json& body, const std::string& name, int usual) {
    return static_cast<int>(number_field_if(body, name).value_or(usual));
}

bool flag_if(const Json& body, const std::string& name, bool usual) {
    return body.contains(name) ? flag_field(body, name) : usual;
}

// Whether the one lies in the other or is it.
bool within(const fs::path& path, const fs::path& folder) {
    std::error_code failed;
    const fs::path a = fs::weakly_canonical(path, failed), b = fs::weakly_canonical(folder, failed);
    return std::mismatch(b.begin(), b.end(), a.begin(), a.end()).first == b.end();
}

Json folder_settings(const Json& body, const std::string& data) {
    std::string path = text_field(body, "path");
    while (path.size() > 1 && path.ends_with('/')) path.pop_back();
    if (path.size() < 2 || path.front() != '/')
        throw http_error(400, "path is a folder from the root of the server's disks: /media/stick");
    std::error_code failed;
    if (!fs::is_directory(path, failed))
        throw http_error(
            400,
            fmt::format("{} is no folder on the server: mount the share or plug the stick in first", path));
    if (within(path, data.empty() ? "." : data) || within(data.empty() ? "." : data, path))
        throw http_error(400, fmt::format("{} holds the workbench's own data: no control reads there", path));
    place::Calls calls;
    return {{"path", path}, {"mount", place::mount_of(calls, path).value_or("")}};
}

}  // namespace

LinePlace line_of(const Json& body) {
    LinePlace line;
    line.device = text_field(body, "device");
    if (!line.device.starts_with("/dev/") || line.device.find("..") != std::string::npos)
        throw http_error(400, "device is a serial line of the server: /dev/ttyUSB0");
    line.line.baud = count_if(body, "baud", line.line.baud);
    line.line.bits = count_if(body, "bits", line.line.bits);
    line.line.stop_bits = count_if(body, "stop_bits", line.line.stop_bits);
    line.line.parity = named(parities, text_field_if(body, "parity").value_or("none"), "parity");
    line.line.handshake = named(handshakes, text_field_if(body, "handshake").value_or("none"), "handshake");
    line.ways.handshake = line.line.handshake;
    line.ways.wait_for_go = flag_if(body, "wait_for_go", false);
    line.ways.crlf = flag_if(body, "crlf", true);
    if (line.ways.wait_for_go && line.line.handshake != Handshake::xon_xoff)
        throw http_error(400, "only a control that says XON can ask for the file: set handshake to xon/xoff");
    if (const auto fault = place::fault_of(line.line); !fault.empty())
        throw http_error(400, in_words(fault, {}));
    return line;
}

Json line_json(const LinePlace& line) {
    return {{"device", line.device},
            {"baud", line.line.baud},
            {"bits", line.line.bits},
            {"parity", word_in(parities, line.line.parity)},
            {"stop_bits", line.line.stop_bits},
            {"handshake", word_in(handshakes, line.line.handshake)},
            {"wait_for_go", line.ways.wait_for_go},
            {"crlf", line.ways.crlf}};
}

PlaceSettings settings_of(const store::PlaceRow& row) {
    const Json settings = Json::parse(row.settings);
    if (row.kind == "line") return line_of(settings);
    return place::Folder{text_field(settings, "path"), text_field_if(settings, "mount").value_or("")};
}

store::NewPlace place_of(const Json& body, const std::string& data) {
    store::NewPlace place;
    place.machine = text_field(body, "machine");
    place.name = text_field(body, "name");
    place.kind = text_field(body, "kind");
    if (place.kind != "folder" && place.kind != "line") throw http_error(400, "kind is folder or line");
    place.settings = (place.kind == "line" ? line_json(line_of(body)) : folder_settings(body, data)).dump();
    return place;
}

}  // namespace seatwright::server
