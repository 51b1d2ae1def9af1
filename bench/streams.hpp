// Pages that listen: event streams held open and read by one thread, as many browsers read theirs.
#pragma once

#include <poll.h>

#include <array>
#include <atomic>
#include <string>
#include <thread>
#include <vector>

#include "loopback.hpp"

namespace seatwright::server {

class Streams {
  public:
    explicit Streams(int port) : port_(port) {}
    ~Streams() {
        over_ = true;
        if (thread_.joinable()) thread_.join();
        for (const auto& one : sockets_) ::close(one.fd);
    }
    Streams(const Streams&) = delete;
    Streams& operator=(const Streams&) = delete;

    // One more; `cookie`: whose. Whether the server takes it.
    bool add(const std::string& path, const std::string& cookie) {
        const int socket = connected_to(port_);
        if (socket < 0) return false;
        const std::string ask =
            "GET " + path + " HTTP/1.1\r\nHost: localhost\r\nCookie: " + cookie + "\r\n\r\n";
        std::array<char, 12> first{};
        if (::send(socket, ask.data(), ask.size(), MSG_NOSIGNAL) != static_cast<ssize_t>(ask.size()) ||
            ::recv(socket, first.data(), first.size(), MSG_WAITALL) != static_cast<ssize_t>(first.size()) ||
            std::string(first.data(), first.size()) != "HTTP/1.1 200") {
            ::close(socket);
            return false;
        }
        sockets_.push_back({socket, POLLIN, 0});
        return true;
    }
    // Reads whatever comes from here on.
    void listen() {
        thread_ = std::thread([this] {
            std::array<char, 1u << 16> room{};
            while (!over_) {
                ::poll(sockets_.data(), sockets_.size(), 100);
                for (auto& one : sockets_) {
                    if (one.revents == 0) continue;
                    const auto count = ::recv(one.fd, room.data(), room.size(), MSG_DONTWAIT);
                    if (count > 0)
                        heard_ += count;
                    else if (count == 0)
                        one.events = 0, ++ended_;
                }
            }
        });
    }
    long long heard() const { return heard_; }  // bytes
    int ended() const { return ended_; }        // by the server

  private:
    int port_;
    std::vector<pollfd> sockets_;
    std::thread thread_;
    std::atomic<bool> over_{false};
    std::atomic<long long> heard_{0};
    std::atomic<int> ended_{0};
};

}  // namespace seatwright::server
