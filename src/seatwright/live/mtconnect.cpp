#include "seatwright/live/mtconnect.hpp"

#include <fmt/format.h>

#include <charconv>
#include <pugixml.hpp>

#include "seatwright/live/figures.hpp"
#include "seatwright/words/english_live.hpp"

namespace seatwright::live {

namespace {

constexpr std::string_view standard = "urn:mtconnect.org:MTConnect";
constexpr int deepest = 64;  // components within components

std::string_view local(std::string_view name) {
    const auto colon = name.rfind(':');
    return colon == std::string_view::npos ? name : name.substr(colon + 1);
}

bool is(const pugi::xml_node& node, std::string_view name) {
    return local(node.name()) == name;
}

pugi::xml_node child(const pugi::xml_node& node, std::string_view name) {
    for (const auto& one : node.children())
        if (is(one, name)) return one;
    return {};
}

std::string attribute(const pugi::xml_node& node, const char* name) {
    return std::string(std::string_view(node.attribute(name).value()).substr(0, longest_raw));
}

std::optional<std::uint64_t> count(const pugi::xml_node& node, const char* name) {
    const std::string_view text = node.attribute(name).value();
    std::uint64_t value = 0;
    const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (text.empty() || fault != std::errc{} || end != text.data() + text.size()) return std::nullopt;
    return value;
}

AgentHeader header_of(const pugi::xml_node& root) {
    const auto node = child(root, "Header");
    AgentHeader header;
    header.instance = count(node, "instanceId").value_or(0);
    header.first = count(node, "firstSequence").value_or(0);
    header.last = count(node, "lastSequence").value_or(0);
    header.next = count(node, "nextSequence").value_or(0);
    header.version = attribute(node, "version");
    header.made = time_of(node.attribute("creationTime").value());
    return header;
}

DataItem item_of(const pugi::xml_node& node, const std::string& component, const std::string& device) {
    return {attribute(node, "id"),
            attribute(node, "name"),
            attribute(node, "type"),
            attribute(node, "subType"),
            attribute(node, "category"),
            attribute(node, "units"),
            component,
            device};
}

// Components lie within each other; deeper than any machine is not looked at.
void collect(const pugi::xml_node& component, const std::string& device, int depth, Devices& to) {
    const std::string name =
        fmt::format("{} {}", local(component.name()), std::string_view(component.attribute("name").value()));
    for (const auto& item : child(component, "DataItems").children())
        if (is(item, "DataItem")) to.items.push_back(item_of(item, std::string(trimmed(name)), device));
    if (depth == deepest) return;
    for (const auto& part : child(component, "Components").children())
        if (part.type() == pugi::node_element) collect(part, device, depth + 1, to);
}

Devices devices_of(const pugi::xml_node& root) {
    Devices devices;
    devices.header = header_of(root);
    for (const auto& device : child(root, "Devices").children())
        if (device.type() == pugi::node_element) collect(device, attribute(device, "name"), 0, devices);
    return devices;
}

Observation observation_of(const pugi::xml_node& node) {
    Observation seen;
    seen.key = attribute(node, "dataItemId");
    const auto text = trimmed(node.child_value());
    seen.raw = std::string(text.substr(0, longest_raw));
    seen.unavailable = text == "UNAVAILABLE" || text.empty();
    if (!seen.unavailable) seen.numbers = numbers_of(text);
    seen.stated = time_of(node.attribute("timestamp").value());
    seen.sequence = count(node, "sequence");
    return seen;
}

Streams streams_of(const pugi::xml_node& root) {
    Streams streams;
    streams.header = header_of(root);
    for (const auto& device : child(root, "Streams").children())
        for (const auto& component : device.children())
            for (const auto& group : component.children()) {
                const bool read = is(group, "Samples") || is(group, "Events");
                for (const auto& item : group.children()) {
                    if (item.type() != pugi::node_element) continue;
                    if (!read)
                        ++streams.conditions;
                    else if (item.attribute("dataItemId"))
                        streams.observations.push_back(observation_of(item));
                }
            }
    return streams;
}

AgentError error_of(const pugi::xml_node& root) {
    auto node = child(child(root, "Errors"), "Error");
    if (!node) node = child(root, "Error");                 // versions 1.0 to 1.2
    if (!node) node = child(root, "Errors").first_child();  // from 2.6 on each has a name of its own
    return {attribute(node, "errorCode"), std::string(trimmed(node.text().get()).substr(0, longest_raw))};
}

bool of_the_standard(const pugi::xml_node& root) {
    for (const auto& one : root.attributes())
        if (std::string_view(one.name()).starts_with("xmlns") &&
            std::string_view(one.value()).starts_with(standard))
            return true;
    return false;
}

}  // namespace

tl::expected<AgentDocument, Sentence> read_agent(std::string_view xml) {
    if (xml.size() > largest_document)
        return tl::unexpected(sentence<"too-large">("mib"_is = largest_document >> 20));
    pugi::xml_document tree;
    const auto parsed = tree.load_buffer(xml.data(), xml.size());
    if (!parsed)
        return tl::unexpected(sentence<"no-xml">("fault"_is = parsed.description(), "at"_is = parsed.offset,
                                                 "bytes"_is = xml.size()));
    const pugi::xml_node root = tree.document_element();
    const std::string_view name = local(root.name());
    if (!of_the_standard(root)) return tl::unexpected(sentence<"no-agent">("name"_is = name.substr(0, 60)));
    AgentDocument document;
    if (name == "MTConnectDevices") {
        document.kind = AgentDocument::Kind::devices;
        document.devices = devices_of(root);
    } else if (name == "MTConnectStreams") {
        document.kind = AgentDocument::Kind::streams;
        document.streams = streams_of(root);
    } else if (name == "MTConnectError") {
        document.error = error_of(root);
    } else {
        return tl::unexpected(sentence<"other-document">("name"_is = name.substr(0, 60)));
    }
    return document;
}

}  // namespace seatwright::live
