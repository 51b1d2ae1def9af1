// A request that ends in a refusal: thrown by whatever finds the reason, turned into {error: sentence} in one
// place (router.cpp).
#pragma once

#include <nlohmann/json.hpp>
#include <string>

#include "seatwright/store/refusal.hpp"
#include "server/http/message.hpp"

namespace seatwright::server {

using Json = nlohmann::ordered_json;

struct HttpError {
    int status = 400;
    Json body;
};

HttpError http_error(int status, const std::string& sentence);
// With what is wrong with a file, fault by fault, beside the sentence.
HttpError http_error(int status, const std::string& sentence, const Faults& faults);
HttpError http_error(const store::Refusal& refusal);
Json json_of(const Faults& faults);
// Writes a refusal as the answer.
void refuse(Response& response, const HttpError& error);

// The value, or the refusal thrown.
template <class T>
T take(store::Answer<T>&& answer) {
    if (!answer) throw http_error(answer.error());
    return std::move(*answer);
}

template <class T>
T found(std::optional<T>&& value, const std::string& what) {
    if (!value) throw http_error(404, "there is no such " + what);
    return std::move(*value);
}

}  // namespace seatwright::server
