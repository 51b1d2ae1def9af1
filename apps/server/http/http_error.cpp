#include "server/http/http_error.hpp"

namespace seatwright::server {

namespace {

int status_of(store::Why why) {
    switch (why) {
        case store::Why::bad:
            return 400;
        case store::Why::forbidden:
            return 403;
        case store::Why::not_found:
            return 404;
        case store::Why::stale:
        case store::Why::taken:
            return 409;
        case store::Why::too_large:
            return 413;
    }
    return 500;
}

}  // namespace

Json json_of(const Faults& faults) {
    Json list = Json::array();
    for (const auto& fault : faults)
        list.push_back(
            {{"file", fault.file}, {"line", fault.line}, {"key", fault.key}, {"text", fault.text}});
    return list;
}

HttpError http_error(int status, const std::string& sentence) {
    return {status, {{"error", sentence}}};
}

HttpError http_error(int status, const std::string& sentence, const Faults& faults) {
    HttpError made = http_error(status, sentence);
    if (!faults.empty()) made.body["faults"] = json_of(faults);
    return made;
}

HttpError http_error(const store::Refusal& refusal) {
    HttpError made = http_error(status_of(refusal.why), refusal.text, refusal.faults);
    if (refusal.version) made.body["version"] = *refusal.version;
    return made;
}

void refuse(Response& response, const HttpError& error) {
    response.status = error.status;
    response.set_content(error.body.dump(-1, ' ', false, Json::error_handler_t::replace), "application/json");
    response.live.reset();
}

}  // namespace seatwright::server
