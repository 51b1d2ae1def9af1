// Why the store would not do as asked: always a sentence a person can act on.
#pragma once

#include <optional>
#include <string>
#include <tl/expected.hpp>

#include "seatwright/base/fault.hpp"

namespace seatwright::store {

enum class Why {
    bad,        // the input is at fault
    not_found,  // there is none of that number or name
    stale,      // made on an older version than the store holds
    taken,      // the name or client key is in use for something else
    forbidden,  // this person may not
    too_large
};

struct Refusal {
    Why why = Why::bad;
    std::string text;                  // one sentence
    Faults faults;                     // when a text could not be read
    std::optional<long long> version;  // stale: what the store holds now
    std::optional<long long> entry;    // taken: the entry stored under that client key
};

template <class T>
using Answer = tl::expected<T, Refusal>;

inline tl::unexpected<Refusal> refuse(Why why, std::string text) {
    return tl::unexpected<Refusal>(Refusal{why, std::move(text), {}, {}, {}});
}

}  // namespace seatwright::store
