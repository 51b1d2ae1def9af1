#include <fmt/format.h>

#include <algorithm>
#include <cctype>

#include "seatwright/cut/files.hpp"

namespace seatwright::cut {

namespace {

constexpr std::size_t short_name = 8, short_head = 3;

std::string plain(const std::string& words) {
    std::string out;
    for (const char c : words) out += std::isalnum(static_cast<unsigned char>(c)) != 0 ? c : '-';
    return out;
}

std::string letters_only(std::string words) {
    std::erase(words, '-');
    return words;
}

// Files of one cutter after the first: 1b, 1c, …
std::string number_of(const Route& route, int turn, bool offsets) {
    std::string out =
        offsets || route.stops.empty() ? "" : fmt::format("{}", route.stops.front().tool.number);
    if (turn > 0) out += static_cast<char>('a' + std::min(turn, 25));
    return out;
}

// Head, setup, cutter and part in eight letters: p6A1f.
std::string eight(const std::string& head, const std::string& setup, const std::string& number,
                  const Route& route) {
    std::string out = "p" + letters_only(head).substr(0, short_head) + setup + number;
    if (route.from) out += 'r';
    if (!route.only.empty()) out += 'o';
    if (route.part == FilePart::first) out += 'f';
    return out.substr(0, short_name);
}

}  // namespace

std::string file_name(const job::Job& job, const Route& route, const std::string& setup, int turn) {
    const bool offsets = job.machine.zero == job::ZeroKept::offsets;
    const std::string number = number_of(route, turn, offsets), head = plain(route.head);
    if (job.dialect.names == job::Dialect::Names::eight_three)
        return eight(head, plain(setup), number, route);
    std::string out = fmt::format("program-{}-{}", head, plain(setup));
    if (!number.empty()) out += "-" + number;
    if (route.from) out += "-from" + plain(*route.from);
    if (!route.only.empty()) {
        out += "-only";
        for (std::size_t i = 0; i < route.only.size(); ++i) out += (i > 0 ? "-" : "") + plain(route.only[i]);
    }
    if (route.part == FilePart::first) out += "-first";
    return out;
}

std::string newest_date(const job::Job& job, const std::string& head) {
    std::string newest;
    const auto look_at = [&](const auto& readings) {
        for (const auto& reading : readings)
            if (reading.head == head) newest = std::max(newest, reading.date);
    };
    look_at(job.readings.touches);
    look_at(job.readings.levels);
    look_at(job.readings.guides);
    look_at(job.readings.seats);
    look_at(job.readings.firsts);
    look_at(job.readings.proofs);
    return newest;
}

}  // namespace seatwright::cut
