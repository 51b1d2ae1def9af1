#include "server/http/pages.hpp"

#include <fmt/format.h>
#include <sodium.h>

#include <array>
#include <map>

#include "seatwright/base/sha256.hpp"
#include "server/http/embedded.hpp"
#include "server/http/http_error.hpp"
#include "server/http/packing.hpp"

namespace seatwright::server {

namespace {

constexpr std::string_view built_folder = "web/dist/", named_by_content = "web/dist/assets/";
constexpr std::string_view brotli_ending = ".br", gzip_ending = ".gz";
constexpr std::string_view not_built =
    "<!doctype html><html lang=\"en\"><meta charset=\"utf-8\"><title>Seatwright</title>"
    "<h1>The pages of the workbench are not built in</h1><p>The program was configured before its front end "
    "was "
    "built. Build it in the folder web, configure and build the program again. The interface under /api "
    "works.</p></html>";

struct Page {
    std::string_view bytes;
    std::string media, tag;
    bool for_ever = false;                    // its name carries a hash of its content
    std::string_view by_brotli{}, by_gzip{};  // empty: it is short, or packed by itself
};

std::string media_of(std::string_view name) {
    static const std::map<std::string_view, std::string> media{{"html", "text/html; charset=utf-8"},
                                                               {"js", "text/javascript; charset=utf-8"},
                                                               {"css", "text/css; charset=utf-8"},
                                                               {"svg", "image/svg+xml"},
                                                               {"png", "image/png"},
                                                               {"ico", "image/x-icon"},
                                                               {"json", "application/json"},
                                                               {"webmanifest", "application/manifest+json"},
                                                               {"woff2", "font/woff2"},
                                                               {"txt", "text/plain; charset=utf-8"}};
    const auto at = media.find(name.substr(name.rfind('.') + 1));
    return at == media.end() ? "application/octet-stream" : at->second;
}

std::string base64(const unsigned char* bytes, std::size_t count) {
    std::string text(sodium_base64_encoded_len(count, sodium_base64_VARIANT_ORIGINAL), '\0');
    sodium_bin2base64(text.data(), text.size(), bytes, count, sodium_base64_VARIANT_ORIGINAL);
    text.pop_back();
    return text;
}

std::string page_mark(std::string_view bytes) {
    const auto hash = sha256_bytes(bytes);
    return base64(hash.data(), hash.size());
}

// Beside a page stands what the build made of it by brotli and gzip.
bool is_packing(std::string_view name) {
    return name.ends_with(brotli_ending) || name.ends_with(gzip_ending);
}

std::string path_of(std::string_view name) {
    const std::string path = "/" + std::string(name.substr(built_folder.size()));
    return path == "/index.html" ? "/" : path;
}

// By path: "/", "/assets/index-abc.js".
std::map<std::string, Page> all_pages() {
    std::map<std::string, Page> pages;
    const auto put = [&](const std::string& path, std::string_view bytes, bool for_ever) {
        pages[path] = {bytes, media_of(path == "/" ? "index.html" : path), "\"" + page_mark(bytes) + "\"",
                       for_ever};
    };
    put("/", not_built, false);
    for (const auto& file : embedded_files())
        if (file.name.starts_with(built_folder) && !is_packing(file.name))
            put(path_of(file.name), file.bytes, file.name.starts_with(named_by_content));
    for (const auto& file : embedded_files()) {
        if (!file.name.starts_with(built_folder) || !is_packing(file.name)) continue;
        Page& page = pages.at(path_of(file.name.substr(0, file.name.rfind('.'))));
        (file.name.ends_with(brotli_ending) ? page.by_brotli : page.by_gzip) = file.bytes;
    }
    return pages;
}

void send(const Page& page, const Request& request, Response& response) {
    response.set_header("ETag", page.tag);
    // Named by their content they never change; the others are asked for each time and mostly answered 304.
    response.set_header("Cache-Control", page.for_ever ? "public, max-age=31536000, immutable" : "no-cache");
    if (request.header("If-None-Match") == page.tag) {
        response.status = 304;
        return;
    }
    response.status = 200;
    const Packing packing = packing_of(request.header("Accept-Encoding"));
    if (page.by_gzip.empty() || packing == Packing::none) return response.set_fixed(page.bytes, page.media);
    response.set_header("Content-Encoding", word_of(packing));
    response.set_header("Vary", "Accept-Encoding");
    response.set_fixed(packing == Packing::brotli ? page.by_brotli : page.by_gzip, page.media);
}

}  // namespace

Fields safe_headers(bool secure) {
    Fields headers{
        {"Content-Security-Policy",
         "default-src 'self'; object-src 'none'; base-uri 'none'; form-action 'self'; frame-ancestors "
         "'none'"},
        {"X-Content-Type-Options", "nosniff"},
        {"X-Frame-Options", "DENY"},
        {"Referrer-Policy", "no-referrer"},
        {"Cross-Origin-Opener-Policy", "same-origin"},
        {"Cross-Origin-Resource-Policy", "same-origin"},
        {"Permissions-Policy", "camera=(), geolocation=(), microphone=()"},
        {"Cache-Control", "no-store"}};
    if (secure) headers.emplace_back("Strict-Transport-Security", "max-age=31536000");
    return headers;
}

std::string policy_of_svg(const std::string& document) {
    constexpr std::string_view open = "<style>", close = "</style>";
    const auto start = document.find(open), end = document.find(close);
    std::string style = "'none'";
    if (start != std::string::npos && end != std::string::npos && end > start)
        style = "'sha256-" +
                page_mark(std::string_view(document).substr(start + open.size(), end - start - open.size())) +
                "'";
    return fmt::format("default-src 'none'; style-src {}; frame-ancestors 'self'", style);
}

void answer_page(const Request& request, Response& response) {
    static const auto pages = all_pages();
    const std::string& path = request.path;
    if (path.starts_with("/api/")) return refuse(response, http_error(404, "there is nothing of that name"));
    const auto at = pages.find(path);
    if (at != pages.end()) return send(at->second, request, response);
    if (path.starts_with("/assets/"))
        return refuse(response, http_error(404, "there is nothing of that name"));
    // The page itself knows its own addresses: /job/3/shape is its business.
    send(pages.at("/"), request, response);
}

}  // namespace seatwright::server
