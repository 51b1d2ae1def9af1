#include "seatwright/plan/digest.hpp"

#include <fmt/format.h>
#include <sodium.h>

#include <array>

#include "seatwright/base/version.hpp"
#include "seatwright/job/writer.hpp"

namespace seatwright::plan {

namespace {

template <class Readings>
void add(std::string& text, const Readings& readings, const std::string& head) {
    for (const auto& reading : readings)
        if (reading.head == head) text += job::to_toml(reading, LengthUnit::mm);
}

std::string learned_words(const find::Find& find) {
    std::string out;
    for (const auto& learned : find.learned)
        out += fmt::format("learned {} {:.9g} {:.9g} {:.9g} {:.9g}\n", learned.valve, learned.mean.x(),
                           learned.mean.y(), learned.scatter, learned.dof);
    return out;
}

}  // namespace

std::string digest_of(const job::Job& job, const find::Find& find, const std::string& head,
                      const job::Selection& selection) {
    std::string text = fmt::format("seatwright {}\nhead {}\n", version, head) + job.given;
    add(text, job.readings.touches, head);
    add(text, job.readings.levels, head);
    add(text, job.readings.guides, head);
    add(text, job.readings.seats, head);
    if (selection.from) add(text, job.readings.proofs, head);
    text += learned_words(find);
    std::array<unsigned char, crypto_hash_sha256_BYTES> hash{};
    crypto_hash_sha256(hash.data(), reinterpret_cast<const unsigned char*>(text.data()), text.size());
    std::string out;
    for (const unsigned char byte : hash) out += fmt::format("{:02x}", byte);
    return out.substr(0, digest_letters);
}

}  // namespace seatwright::plan
