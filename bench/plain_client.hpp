// A client that costs little of the processors it shares with the server it asks: one connection, kept; heads
// written out, the length read, the body taken as it comes. A connection the server closed before it was
// asked anything (only so many may be open that nobody has signed in on) is made again.
#pragma once

#include <array>
#include <charconv>
#include <nlohmann/json.hpp>
#include <string>
#include <string_view>

#include "loopback.hpp"

namespace seatwright::server {

class PlainClient {
  public:
    struct Answer {
        int status = 0;  // 0: the connection broke
        std::string text;
        nlohmann::ordered_json json() const { return nlohmann::ordered_json::parse(text, nullptr, false); }
    };

    // `cookie`: name and value.
    PlainClient(int port, const std::string& cookie, const std::string& csrf)
        : head_(" HTTP/1.1\r\nHost: localhost:" + std::to_string(port) + "\r\nCookie: " + cookie +
                "\r\nX-CSRF-Token: " + csrf + "\r\n"),
          port_(port) {}
    ~PlainClient() {
        if (socket_ >= 0) ::close(socket_);
    }
    PlainClient(const PlainClient&) = delete;
    PlainClient& operator=(const PlainClient&) = delete;

    Answer get(const std::string& path) { return ask("GET " + path + head_ + "\r\n"); }
    Answer post(const std::string& path, const nlohmann::ordered_json& body) {
        const std::string text = body.dump();
        return ask("POST " + path + head_ + "Content-Type: application/json\r\nContent-Length: " +
                   std::to_string(text.size()) + "\r\n\r\n" + text);
    }

  private:
    void connect() {
        if (socket_ >= 0) ::close(socket_);
        socket_ = connected_to(port_);
        broken_ = socket_ < 0;
    }
    Answer ask(const std::string& question) {
        for (int tries = 0; tries < 2; ++tries) {
            if (broken_) connect();
            if (Answer answer = ask_once(question); answer.status != 0) return answer;
            broken_ = true;
        }
        return {};
    }
    Answer ask_once(const std::string& question) {
        if (broken_ || ::send(socket_, question.data(), question.size(), MSG_NOSIGNAL) !=
                           static_cast<ssize_t>(question.size()))
            return {};
        std::string in;
        std::size_t head = std::string::npos;
        while ((head = in.find("\r\n\r\n")) == std::string::npos)
            if (!more(in)) return {};
        head += 4;
        const std::string_view says(in.data(), head);
        const std::size_t size = length_in(says);
        Answer answer{number_at(says, says.find(' ') + 1), in.substr(head)};
        answer.text.reserve(size);
        while (answer.text.size() < size)
            if (!more(answer.text)) return {};
        return answer;
    }
    bool more(std::string& in) {
        const auto count = ::recv(socket_, room_.data(), room_.size(), 0);
        broken_ = count <= 0;
        if (!broken_) in.append(room_.data(), static_cast<std::size_t>(count));
        return !broken_;
    }
    static int number_at(std::string_view text, std::size_t at) {
        int number = 0;
        std::from_chars(text.data() + at, text.data() + text.size(), number);
        return number;
    }
    // The server writes the name so (http/connection.cpp).
    static std::size_t length_in(std::string_view head) {
        constexpr std::string_view name = "Content-Length: ";
        const auto at = head.find(name);
        return at == std::string_view::npos ? 0 : std::size_t(number_at(head, at + name.size()));
    }

    std::string head_;  // behind the method and path of each question
    int port_, socket_ = -1;
    bool broken_ = true;  // or not made yet
    std::array<char, 1u << 16> room_{};
};

}  // namespace seatwright::server
