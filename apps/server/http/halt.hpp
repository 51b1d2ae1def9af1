// A request that ends in a refusal: thrown by whatever finds the reason, turned into {error: sentence} in one
// place (router.cpp).
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "seatwright/store/refusal.hpp"

namespace seatwright::server {

using Json = nlohmann::ordered_json;

struct Halt {
    int status = 400;
    Json body;
};

Halt halt(int status, const std::string& sentence);
Halt halt(const store::Refusal& refusal);
Json json_of(const Faults& faults);

// The value, or the refusal thrown.
template <class T>
T take(store::Answer<T>&& answer) {
    if (!answer) throw halt(answer.error());
    return std::move(*answer);
}

template <class T>
T found(std::optional<T>&& value, const std::string& what) {
    if (!value) throw halt(404, "there is no such " + what);
    return std::move(*value);
}

}  // namespace seatwright::server
