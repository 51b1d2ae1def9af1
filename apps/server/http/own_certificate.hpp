// Certificates the workbench makes for itself, so that tablets of the shop speak https with it: a root that
// each device is told to trust once, and under it a certificate for the server's names and addresses (X.509
// v3, RFC 5280; keys on P-256). The root stays for ten years; the server's is made anew a month before it
// ends and when a name is asked for that it lacks.
#pragma once

#include <chrono>
#include <string>
#include <vector>

namespace seatwright::server {

struct OwnCertificate {
    std::string root_file;             // PEM, for a device to trust
    std::string chain_file, key_file;  // PEM: the server's certificate with the root after it, and its key
    std::string fingerprint;           // of the root: SHA-256 of its DER form, "3F:A0:…"
    std::chrono::sys_seconds ends{};   // of the server's certificate
    bool root_made = false, made = false;  // by this call
};

// Names (DNS) and addresses (IPv4, IPv6 as text) by which this machine is reached: its host name, that name
// with
// ".local", and the addresses of its interfaces, or `listen` alone if that is one address.
std::vector<std::string> network_names(const std::string& listen);

bool is_address(const std::string& name);
// An address, or a name as RFC 1123 has them.
bool can_be_certified(const std::string& name);

// What lies in `folder` (made if absent, 0700; keys 0600), made or made anew where needed. Each file appears
// whole or not at all. Throws CannotServe: what lies there cannot be used, or nothing can be written.
OwnCertificate own_certificate(const std::string& folder, const std::vector<std::string>& names,
                               std::chrono::sys_seconds now);

}  // namespace seatwright::server
