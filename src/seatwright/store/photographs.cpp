#include "seatwright/store/photographs.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sodium.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "seatwright/base/sha256.hpp"

namespace seatwright::store {

namespace {

namespace fs = std::filesystem;

constexpr std::string_view ending = ".jpg";
constexpr std::string_view first_bytes = "\xff\xd8\xff", last_bytes = "\xff\xd9";  // ISO/IEC 10918-1, B.1.1.3

Refusal no_room(const fs::path& path) {
    return {Why::bad,
            fmt::format("{} could not be written: {}", path.string(), std::strerror(errno)),
            {},
            {},
            {}};
}

bool write_all(int handle, std::string_view bytes) {
    while (!bytes.empty()) {
        const ssize_t written = ::write(handle, bytes.data(), bytes.size());
        if (written < 0 && errno == EINTR) continue;
        if (written <= 0) return false;
        bytes.remove_prefix(static_cast<std::size_t>(written));
    }
    return ::fsync(handle) == 0;
}

// What stands in the folder, and under which name, is on disk. False: errno says why not.
bool flushed(const fs::path& folder) {
    const int in = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
    if (in < 0) return false;
    const bool done = ::fsync(in) == 0;
    const int why = errno;
    ::close(in);
    errno = why;
    return done;
}

// Whole under its name or not at all; its folder is its owner's alone.
std::optional<Refusal> place_bytes(const fs::path& folder, const fs::path& file, std::string_view bytes) {
    std::error_code failed;
    if (fs::create_directories(folder, failed)) {
        fs::permissions(folder, fs::perms::owner_all, failed);
        if (!flushed(fs::absolute(folder).parent_path())) return no_room(folder);
    }
    const fs::path part = file.string() + fmt::format(".{}.part", ::getpid());
    const int handle = ::open(part.c_str(), O_WRONLY | O_CREAT | O_TRUNC | O_CLOEXEC, S_IRUSR | S_IWUSR);
    if (handle < 0) return no_room(part);
    const bool written = write_all(handle, bytes);
    ::close(handle);
    if (!written || ::rename(part.c_str(), file.c_str()) != 0) {
        Refusal refusal = no_room(file);
        ::unlink(part.c_str());
        return refusal;
    }
    if (!flushed(folder)) return no_room(folder);
    return std::nullopt;
}

std::optional<std::string> read_all(const fs::path& file) {
    std::ifstream in(file, std::ios::binary);
    if (!in) return std::nullopt;
    return std::string(std::istreambuf_iterator<char>(in), {});
}

void put_in_table(Database& database, const std::string& name, std::string_view jpeg) {
    std::string text(sodium_base64_ENCODED_LEN(jpeg.size(), sodium_base64_VARIANT_ORIGINAL), '\0');
    sodium_bin2base64(text.data(), text.size(), reinterpret_cast<const unsigned char*>(jpeg.data()),
                      jpeg.size(), sodium_base64_VARIANT_ORIGINAL);
    text.pop_back();  // the zero behind it
    database.write([&](Sql& sql) {
        sql << "insert into photograph (sha256, body) values (:name, decode(:body, 'base64')) on conflict do "
               "nothing",
            soci::use(name), soci::use(text);
    });
}

std::optional<std::string> of_table(Database& database, const std::string& name) {
    const auto text = database.read([&](Sql& sql) {
        std::string found;
        sql << "select encode(body, 'base64') from photograph where sha256 = :name", soci::use(name),
            soci::into(found);
        return sql.got_data() ? std::optional(found) : std::nullopt;
    });
    if (!text) return std::nullopt;
    std::string one_line = *text;
    std::erase(one_line, '\n');
    return bytes_of_base64(one_line);
}

}  // namespace

std::string photographs_folder(const std::string& folder) {
    return (fs::path(folder.empty() ? "." : folder) / "photographs").string();
}

bool is_photograph_name(std::string_view name) {
    return name.size() == 64 && std::all_of(name.begin(), name.end(), [](char c) {
               return (c >= '0' && c <= '9') || (c >= 'a' && c <= 'f');
           });
}

Answer<std::string> Photographs::put(std::string_view jpeg) const {
    if (jpeg.size() > largest_photograph)
        return refuse(Why::bad, fmt::format("a photograph has at most {} bytes; this one has {}",
                                            largest_photograph, jpeg.size()));
    if (!jpeg.starts_with(first_bytes) || !jpeg.ends_with(last_bytes))
        return refuse(Why::bad, "a photograph is a JPEG file");
    const std::string name = sha256(jpeg);
    if (database_ != nullptr) {
        put_in_table(*database_, name, jpeg);
        return name;
    }
    const fs::path file = fs::path(folder_) / (name + std::string(ending));
    std::error_code failed;
    if (fs::is_regular_file(file, failed)) return name;
    if (auto refusal = place_bytes(folder_, file, jpeg)) return tl::unexpected(*refusal);
    return name;
}

std::optional<std::string> Photographs::get(const std::string& name) const {
    if (!is_photograph_name(name)) return std::nullopt;
    if (database_ != nullptr) return of_table(*database_, name);
    return read_all(fs::path(folder_) / (name + std::string(ending)));
}

std::optional<std::string> bytes_of_base64(const std::string& text) {
    std::string bytes(text.size() / 4 * 3 + 3, '\0');
    std::size_t size = 0;
    const char* end = nullptr;
    if (sodium_base642bin(reinterpret_cast<unsigned char*>(bytes.data()), bytes.size(), text.data(),
                          text.size(), nullptr, &size, &end, sodium_base64_VARIANT_ORIGINAL) != 0 ||
        end != text.data() + text.size())
        return std::nullopt;
    bytes.resize(size);
    return bytes;
}

std::string base64_of(std::string_view bytes) {
    std::string text(sodium_base64_ENCODED_LEN(bytes.size(), sodium_base64_VARIANT_ORIGINAL), '\0');
    sodium_bin2base64(text.data(), text.size(), reinterpret_cast<const unsigned char*>(bytes.data()),
                      bytes.size(), sodium_base64_VARIANT_ORIGINAL);
    text.pop_back();  // the nought sodium puts behind
    return text;
}

Answer<Copied> copy_photographs(const std::string& from, const std::string& to) {
    Copied copied;
    std::error_code failed;
    for (fs::directory_iterator at(from, failed), end; !failed && at != end; at.increment(failed)) {
        const std::string name = at->path().filename().string();
        if (!name.ends_with(ending) || !is_photograph_name(std::string_view(name).substr(0, 64))) continue;
        ++copied.all;
        const fs::path file = fs::path(to) / name;
        std::error_code unknown;
        if (fs::exists(file, unknown)) continue;
        const auto bytes = read_all(at->path());
        if (!bytes || sha256(*bytes) + std::string(ending) != name)
            return refuse(Why::bad, fmt::format("{}: is not as it was stored", at->path().string()));
        if (auto refusal = place_bytes(to, file, *bytes)) return tl::unexpected(*refusal);
        ++copied.made;
    }
    return copied;
}

}  // namespace seatwright::store
