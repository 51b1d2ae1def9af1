// A folder of its own for each test, gone afterwards.
#pragma once

#include <stdlib.h>

#include <filesystem>
#include <stdexcept>
#include <string>

namespace seatwright::store {

class TestFolder {
  public:
    explicit TestFolder(const std::filesystem::path& start = std::filesystem::temp_directory_path() /
                                                             "seatwright test ") {
        std::string name = start.string() + "XXXXXX";
        if (::mkdtemp(name.data()) == nullptr) throw std::runtime_error("no folder for the test");
        path_ = name;
    }
    ~TestFolder() {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }
    TestFolder(const TestFolder&) = delete;
    TestFolder& operator=(const TestFolder&) = delete;
    std::string path() const { return path_; }
    std::string file(const std::string& name) const { return (std::filesystem::path(path_) / name).string(); }

  private:
    std::string path_;
};

}  // namespace seatwright::store
