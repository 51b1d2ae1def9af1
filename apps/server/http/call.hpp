// One request on its way through a handler, and the answer being made.
#pragma once

#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "seatwright/base/units.hpp"
#include "seatwright/store/people.hpp"
#include "seatwright/words/in_words.hpp"
#include "server/http/http_error.hpp"
#include "server/http/message.hpp"

namespace seatwright::server {

class Call {
  public:
    Call(const Request& request, Response& response, std::vector<std::string> parts)
        : request_(request), response_(response), parts_(std::move(parts)) {}

    std::optional<store::Login> login;

    const Request& request() const { return request_; }
    Response& response() { return response_; }

    // The person; a route that needs a role has one.
    const store::Person& person() const { return login->person; }

    // The n-th {…} of the route, from 1.
    std::string part(std::size_t n) const { return parts_.at(n - 1); }
    // Asked again and again, from any thread: whether who asks is still there.
    std::function<bool()> asker_there() const {
        return [there = request_.asker_there] { return !there || there(); };
    }

    // As a number; 404 when it is out of range.
    long long number(std::size_t n) const;

    // A query parameter; empty if absent.
    std::string query(const std::string& name) const { return request_.param(name); }
    std::optional<long long> query_number(const std::string& name) const;  // 400 when it is none
    std::optional<double> query_real(const std::string& name) const;
    std::optional<LengthUnit> query_units() const;
    // How the page is spoken to where nothing has a unit of its own: in the one it shows, mm if it says none.
    Speech speech() const { return {query_units().value_or(LengthUnit::mm)}; }

    // The body as a JSON object; 400 when it is none.
    Json json() const;

    void answer(int status, const Json& json) {
        answer_text(status, json.dump(-1, ' ', false, Json::error_handler_t::replace), "application/json");
    }
    void answer_text(int status, std::string text, const std::string& media);
    void answer_nothing() { response_.status = 204; }

  private:
    const Request& request_;
    Response& response_;
    std::vector<std::string> parts_;
};

// An angle a head can be held at, degrees; 400 for one that cannot be.
double angle_within(double degrees, const std::string& name);

// Fields of a JSON body, typed; a wrong type or an absent required field is a 400 with a sentence.
std::string text_field(const Json& body, const std::string& name);
std::optional<std::string> text_field_if(const Json& body, const std::string& name);
long long number_field(const Json& body, const std::string& name);
std::optional<long long> number_field_if(const Json& body, const std::string& name);
bool flag_field(const Json& body, const std::string& name);      // false if absent
std::optional<LengthUnit> units_named(const std::string& name);  // empty name: none; 400 for any other word

}  // namespace seatwright::server
