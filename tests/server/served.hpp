// The whole program as a process of its own, its owner Pat logged in, with a job.
#pragma once

#include <string>

#include "client.hpp"
#include "process.hpp"

namespace seatwright::server {

struct Served {
    const store::TestFolder folder;
    const std::string data = new_data(folder.path() + "/data");
    Serving serving{options_in(data)};
    const int port = serving.port();  // 0: it did not start
    Client pat{port};
    const long long job = begin();

  private:
    static ServeOptions options_in(const std::string& data) {
        ServeOptions options;
        options.data = data;
        options.port = 0;
        return options;
    }
    long long begin() {
        pat.take_session(pat.post("/api/owner", {{"name", "Pat"}, {"password", good_password}}));
        return pat.post("/api/jobs", {{"from", "example"}, {"example", "wedge"}}).json().value("id", 0LL);
    }
};

}  // namespace seatwright::server
