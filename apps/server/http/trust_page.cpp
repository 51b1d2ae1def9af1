#include "server/http/trust_page.hpp"

#include <fmt/format.h>
#include <openssl/pem.h>
#include <openssl/x509.h>
#include <qrencode.h>

#include <cstdio>
#include <memory>
#include <stdexcept>

namespace seatwright::server {

namespace {

constexpr std::string_view page_style =
    "body{max-width:38rem;margin:2rem auto;padding:0 1rem;font:18px/1.5 "
    "sans-serif;color:#222;background:#fdfdfb}"
    "a{color:#123f7a}a.take{display:inline-block;padding:.7rem 1.2rem;border:2px solid "
    "#123f7a;font-weight:bold}"
    "code{font-size:17px;overflow-wrap:anywhere}svg{width:14rem;height:14rem}li{margin:1rem 0}";

// As devices take it: DER.
std::string der_of(const std::string& pem_file) {
    const std::unique_ptr<std::FILE, int (*)(std::FILE*)> file(std::fopen(pem_file.c_str(), "r"),
                                                               std::fclose);
    const std::unique_ptr<X509, void (*)(X509*)> read(
        file ? PEM_read_X509(file.get(), nullptr, nullptr, nullptr) : nullptr, X509_free);
    unsigned char* bytes = nullptr;
    const int size = read ? i2d_X509(read.get(), &bytes) : 0;
    if (size <= 0) throw CannotServe(pem_file + ": cannot be read");
    std::string out(reinterpret_cast<const char*>(bytes), static_cast<std::size_t>(size));
    OPENSSL_free(bytes);
    return out;
}

std::string page_of(const OwnCertificate& own, const std::string& workbench) {
    return fmt::format(
        R"(<!doctype html><html lang="en"><head><meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1"><title>Trust this shop's workbench</title>
<link rel="stylesheet" href="/style.css"></head><body>
<h1>Trust this shop's workbench</h1>
<p>Once for each tablet or PC. Afterwards what you type here crosses the network sealed, and readings wait safely on
the device while the network is away.</p>
<ol>
<li><a class="take" href="/root.crt">Take the root certificate</a></li>
<li>Compare its fingerprint (SHA-256) with the one the workbench printed where it was started. If one figure differs,
stop: somebody stands between.<br><code>{0}</code></li>
<li>In the settings of the device install it as a certificate authority. Some devices want it switched on in a second
place before they trust it.</li>
<li>Go on to <a href="{1}">{1}</a>, or point a camera at this:<br>{2}</li>
</ol>
<p>This page is not sealed. It serves the certificate and nothing of the workbench.</p>
</body></html>
)",
        own.fingerprint, workbench, square_code(workbench));
}

}  // namespace

std::string square_code(const std::string& text) {
    const std::unique_ptr<QRcode, void (*)(QRcode*)> code(
        QRcode_encodeString8bit(text.c_str(), 0, QR_ECLEVEL_M), QRcode_free);
    if (!code) throw std::runtime_error("a square code cannot hold a text that long");
    constexpr int border = 4;  // modules; the standard asks for them
    const int width = code->width;
    std::string path;
    for (int y = 0; y < width; ++y)
        for (int x = 0; x < width; ++x)
            if ((code->data[y * width + x] & 1) != 0)
                path += fmt::format("M{} {}h1v1h-1z", x + border, y + border);
    return fmt::format(
        R"(<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {0} {0}" role="img" aria-label="Square code of the address">)"
        R"(<rect width="{0}" height="{0}" fill="#fff"/><path fill="#000" d="{1}"/></svg>)",
        width + 2 * border, path);
}

OpenPages::Pages trust_pages(const OwnCertificate& own, const std::string& workbench) {
    const auto always = [](std::string text, std::string media) {
        return [text = std::move(text), media = std::move(media)] {
            Response response;
            response.set_content(text, media);
            return response;
        };
    };
    return {{"/", always(page_of(own, workbench), "text/html; charset=utf-8")},
            {"/style.css", always(std::string(page_style), "text/css; charset=utf-8")},
            {"/root.crt", always(der_of(own.root_file), "application/x-x509-ca-cert")}};
}

}  // namespace seatwright::server
