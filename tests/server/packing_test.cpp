// Packed answers: which packing an Accept-Encoding asks for, and that zlib unpacks what was packed.
#include "server/http/packing.hpp"

#include <gtest/gtest.h>
#include <zlib.h>

#include "server/http/pages.hpp"

namespace seatwright::server {
namespace {

// Of gzip; `most`: its bytes unpacked.
std::string unpacked(std::string_view small, std::size_t most) {
    std::string back(most, '\0');
    z_stream stream{};
    EXPECT_EQ(inflateInit2(&stream, 15 + 16), Z_OK);
    stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(small.data()));
    stream.avail_in = static_cast<uInt>(small.size());
    stream.next_out = reinterpret_cast<Bytef*>(back.data());
    stream.avail_out = static_cast<uInt>(back.size());
    EXPECT_EQ(inflate(&stream, Z_FINISH), Z_STREAM_END);
    inflateEnd(&stream);
    return back;
}

// RFC 9110, 12.5.3.
TEST(Packing, IsTheBestOneNamedUnlessItsWeightIsNought) {
    EXPECT_EQ(packing_of("gzip, deflate, br"), Packing::brotli);
    EXPECT_EQ(packing_of("gzip, deflate"), Packing::gzip);
    EXPECT_EQ(packing_of("GZIP;q=0.5"), Packing::gzip);
    EXPECT_EQ(packing_of("br;q=0, gzip ; q=1.0"), Packing::gzip);
    EXPECT_EQ(packing_of("br;q=0.0,gzip;q=0.000"), Packing::none);
    EXPECT_EQ(packing_of("identity"), Packing::none);
    EXPECT_EQ(packing_of("brotli, gzipped"), Packing::none);
    EXPECT_EQ(packing_of(""), Packing::none);
}

TEST(Packing, GzipIsUnpackedAgainAndSmaller) {
    std::string text;
    for (int i = 0; i < 4000; ++i) text += "{\"x_mm\":" + std::to_string(i * 7) + "},";
    for (const int level : {4, 9}) {
        const std::string small = packed(text, Packing::gzip, level);
        EXPECT_LT(small.size(), text.size() / 3);
        EXPECT_EQ(unpacked(small, text.size()), text);
    }
    EXPECT_LT(packed(text, Packing::brotli, 4).size(), text.size() / 3);
    EXPECT_EQ(packed(text, Packing::none, 4), text);
}

// A page goes out as the build packed it, and it is the same page; what was packed is no page of its own.
TEST(Packing, APageIsHandedOutAsItWasBuilt) {
    const auto page = [](const std::string& path, const std::string& accepted) {
        Request request;
        request.path = path;
        if (!accepted.empty()) request.headers.emplace_back("Accept-Encoding", accepted);
        Response response;
        answer_page(request, response);
        return response;
    };
    const auto packing_said = [](const Response& response) {
        for (const auto& [name, value] : response.headers)
            if (name == "Content-Encoding") return value;
        return std::string();
    };
    const auto plain = page("/", ""), small = page("/", "gzip"), smaller = page("/", "gzip, br");
    EXPECT_EQ(unpacked(small.body(), plain.body().size()), plain.body());
    EXPECT_EQ(packing_said(small), "gzip");
    EXPECT_EQ(packing_said(smaller), "br");
    EXPECT_LT(smaller.body().size(), small.body().size());
    EXPECT_EQ(page("/index.html.gz", "").body(), plain.body()) << "as any address of the page's own";
}

TEST(Packing, PicturesAndPapersArePackedAlready) {
    EXPECT_TRUE(is_packed_media("application/json"));
    EXPECT_TRUE(is_packed_media("text/javascript; charset=utf-8"));
    EXPECT_TRUE(is_packed_media("image/svg+xml"));
    EXPECT_FALSE(is_packed_media("image/jpeg"));
    EXPECT_FALSE(is_packed_media("application/pdf"));
}

}  // namespace
}  // namespace seatwright::server
