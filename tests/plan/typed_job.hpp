// An invented example job with figures typed otherwise.
#pragma once

#include <gtest/gtest.h>

#include <fstream>
#include <iterator>
#include <string>
#include <vector>

#include "../changed.hpp"
#include "../places.hpp"
#include "seatwright/job/reader.hpp"
#include "seatwright/plan/plan.hpp"

namespace seatwright::fixtures {

inline std::string text_of(const std::string& path) {
    std::ifstream in(std::string(places::root) + "/" + path, std::ios::binary);
    return {std::istreambuf_iterator<char>(in), {}};
}

struct Typed {
    std::string from, to;  // the first place of `from`; empty: at the end
};

inline job::Job job_of(const std::string& example, const std::vector<Typed>& slips) {
    const std::string file = "examples/" + example + "/job.toml";
    std::string text = text_of(file);
    for (const Typed& slip : slips) {
        if (slip.from.empty())
            text += slip.to;
        else
            text = changed(std::move(text), slip.from, slip.to);
    }
    const job::Fetch fetch = [](const std::string&) -> tl::expected<std::string, std::string> {
        return text_of("shop/shop.toml");
    };
    auto job = job::read_job(text, file, fetch);
    EXPECT_TRUE(job) << (job ? "" : job.error().front().text);
    return job ? *job : job::Job{};
}

}  // namespace seatwright::fixtures
