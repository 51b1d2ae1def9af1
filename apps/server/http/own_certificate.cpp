#include "server/http/own_certificate.hpp"

#include <fmt/format.h>
#include <openssl/evp.h>
#include <openssl/pem.h>
#include <openssl/rand.h>
#include <openssl/x509v3.h>
#include <sys/stat.h>

#include <algorithm>
#include <cstdio>
#include <ctime>
#include <filesystem>
#include <memory>

#include "seatwright/store/backup_folder.hpp"
#include "server/http/web_server.hpp"

namespace seatwright::server {

namespace {

namespace fs = std::filesystem;
using PrivateKey = std::unique_ptr<EVP_PKEY, void (*)(EVP_PKEY*)>;
using Certificate = std::unique_ptr<X509, void (*)(X509*)>;

constexpr std::chrono::days root_lasts{3650}, server_lasts{397}, made_anew_before{30};

[[noreturn]] void cannot(const std::string& what) {
    throw CannotServe(what);
}

struct Pair {
    Certificate certificate{nullptr, X509_free};
    PrivateKey key{nullptr, EVP_PKEY_free};
    explicit operator bool() const { return certificate && key; }
};

void add_extension(X509* to, X509* issuer, int id, const std::string& value) {
    X509V3_CTX context;
    X509V3_set_ctx_nodb(&context);
    X509V3_set_ctx(&context, issuer, to, nullptr, nullptr, 0);
    X509_EXTENSION* made = X509V3_EXT_conf_nid(nullptr, &context, id, value.c_str());
    if (made == nullptr) cannot("a certificate cannot be made for " + value);
    X509_add_ext(to, made, -1);
    X509_EXTENSION_free(made);
}

// Version, number, dates and key; a day in the past at the front, for clocks that are behind.
Pair begun(const std::string& common_name, std::chrono::sys_seconds now, std::chrono::days lasts) {
    Pair pair;
    pair.key.reset(EVP_EC_gen("P-256"));
    pair.certificate.reset(X509_new());
    unsigned char number[16];
    if (!pair || RAND_bytes(number, sizeof number) != 1)
        cannot("a certificate cannot be made on this machine");
    number[0] &= 0x7f;  // positive
    X509* const made = pair.certificate.get();
    X509_set_version(made, 2);
    BIGNUM* const big = BN_bin2bn(number, sizeof number, nullptr);
    BN_to_ASN1_INTEGER(big, X509_get_serialNumber(made));
    BN_free(big);
    const auto seconds = [](std::chrono::sys_seconds at) {
        return static_cast<std::time_t>(at.time_since_epoch().count());
    };
    ASN1_TIME_set(X509_getm_notBefore(made), seconds(now - std::chrono::days(1)));
    ASN1_TIME_set(X509_getm_notAfter(made), seconds(now + lasts));
    X509_set_pubkey(made, pair.key.get());
    X509_NAME* const name = X509_get_subject_name(made);
    const auto entry = [&](const char* field, const std::string& words) {
        X509_NAME_add_entry_by_txt(name, field, MBSTRING_UTF8,
                                   reinterpret_cast<const unsigned char*>(words.c_str()), -1, -1, 0);
    };
    entry("O", "Seatwright workbench");
    constexpr std::size_t longest = 64;  // RFC 5280, upper bound of a common name
    entry("CN", common_name.substr(0, longest));
    return pair;
}

Pair made_root(const std::string& host, std::chrono::sys_seconds now) {
    Pair root =
        begun(fmt::format("Root of {}, {}", host, store::iso_day(std::chrono::floor<std::chrono::days>(now))),
              now, root_lasts);
    X509* const made = root.certificate.get();
    X509_set_issuer_name(made, X509_get_subject_name(made));
    add_extension(made, made, NID_basic_constraints, "critical,CA:TRUE,pathlen:0");
    add_extension(made, made, NID_key_usage, "critical,keyCertSign,cRLSign");
    add_extension(made, made, NID_subject_key_identifier, "hash");
    if (X509_sign(made, root.key.get(), EVP_sha256()) == 0) cannot("the root certificate cannot be signed");
    return root;
}

Pair made_for(const std::vector<std::string>& names, const Pair& root, std::chrono::sys_seconds now) {
    Pair pair = begun(names.front(), now, server_lasts);
    X509* const made = pair.certificate.get();
    X509_set_issuer_name(made, X509_get_subject_name(root.certificate.get()));
    std::string all;
    for (const auto& name : names)
        all += fmt::format("{}{}:{}", all.empty() ? "" : ",", is_address(name) ? "IP" : "DNS", name);
    add_extension(made, root.certificate.get(), NID_basic_constraints, "critical,CA:FALSE");
    add_extension(made, root.certificate.get(), NID_key_usage, "critical,digitalSignature");
    add_extension(made, root.certificate.get(), NID_ext_key_usage, "serverAuth");
    add_extension(made, root.certificate.get(), NID_subject_key_identifier, "hash");
    add_extension(made, root.certificate.get(), NID_authority_key_identifier, "keyid:always");
    add_extension(made, root.certificate.get(), NID_subject_alt_name, all);
    if (X509_sign(made, root.key.get(), EVP_sha256()) == 0) cannot("the certificate cannot be signed");
    return pair;
}

class File {
  public:
    File(const std::string& name, const char* mode) : handle_(std::fopen(name.c_str(), mode), std::fclose) {}
    operator std::FILE*() const { return handle_.get(); }
    explicit operator bool() const { return handle_ != nullptr; }

  private:
    std::unique_ptr<std::FILE, int (*)(std::FILE*)> handle_;
};

// Both there and of each other; else nothing. A key that asks for a passphrase is none of ours.
Pair read_pair(const std::string& certificate, const std::string& key) {
    Pair pair;
    const auto no_passphrase = [](char*, int, int, void*) { return 0; };
    if (const File file(certificate, "r"); file)
        pair.certificate.reset(PEM_read_X509(file, nullptr, no_passphrase, nullptr));
    if (const File file(key, "r"); file)
        pair.key.reset(PEM_read_PrivateKey(file, nullptr, no_passphrase, nullptr));
    if (pair && X509_check_private_key(pair.certificate.get(), pair.key.get()) == 1) return pair;
    return {};
}

// Whole or not at all, and its owner's alone: under another name first.
template <class Write>
void write_whole(const std::string& name, const Write& write) {
    const std::string part = name + ".part";
    std::error_code failed;
    fs::remove(part, failed);
    bool good = false;
    if (const File file(part, "wx"); file) {
        ::fchmod(::fileno(file), S_IRUSR | S_IWUSR);
        good = write(static_cast<std::FILE*>(file)) && std::fflush(file) == 0 && ::fsync(::fileno(file)) == 0;
    }
    if (good) {
        fs::rename(part, name, failed);
        good = !failed;
    }
    if (!good) cannot(name + ": cannot be written; the workbench keeps its certificates there");
}

void write_certificates(const std::string& name, const std::vector<X509*>& chain) {
    write_whole(name, [&](std::FILE* file) {
        return std::all_of(chain.begin(), chain.end(),
                           [&](X509* one) { return PEM_write_X509(file, one) == 1; });
    });
}
void write_key(const std::string& name, EVP_PKEY* key) {
    write_whole(name, [&](std::FILE* file) {
        return PEM_write_PrivateKey(file, key, nullptr, nullptr, 0, nullptr, nullptr) == 1;
    });
}

std::chrono::sys_seconds end_of(X509* certificate) {
    std::tm at{};
    ASN1_TIME_to_tm(X509_get0_notAfter(certificate), &at);
    return std::chrono::sys_seconds(std::chrono::seconds(::timegm(&at)));
}

bool covers(X509* certificate, const std::string& name) {
    return is_address(name) ? X509_check_ip_asc(certificate, name.c_str(), 0) == 1
                            : X509_check_host(certificate, name.c_str(), name.size(), 0, nullptr) == 1;
}

bool still_good(const Pair& own, const Pair& root, const std::vector<std::string>& names,
                std::chrono::sys_seconds now) {
    if (!own || X509_verify(own.certificate.get(), root.key.get()) != 1) return false;
    if (end_of(own.certificate.get()) - now < made_anew_before) return false;
    return std::all_of(names.begin(), names.end(),
                       [&](const std::string& name) { return covers(own.certificate.get(), name); });
}

std::string fingerprint_of(X509* certificate) {
    unsigned char digest[EVP_MAX_MD_SIZE];
    unsigned int size = 0;
    X509_digest(certificate, EVP_sha256(), digest, &size);
    std::string out;
    for (unsigned int i = 0; i < size; ++i) out += fmt::format("{}{:02X}", i == 0 ? "" : ":", digest[i]);
    return out;
}

// The root that is there, else a new one. One that is there and cannot be used is never replaced: devices
// trust it.
Pair root_in(const std::string& certificate, const std::string& key, const std::string& host,
             std::chrono::sys_seconds now, bool& made) {
    if (fs::exists(certificate) || fs::exists(key)) {
        Pair root = read_pair(certificate, key);
        if (!root || end_of(root.certificate.get()) <= now)
            cannot(fmt::format(
                "{} and {}: {}; move both away, then a new root is made, which every tablet must be "
                "told to trust anew",
                certificate, key, root ? "have ended" : "are damaged, or do not belong together"));
        return root;
    }
    Pair root = made_root(host, now);
    write_key(key, root.key.get());
    write_certificates(certificate, {root.certificate.get()});
    made = true;
    return root;
}

}  // namespace

OwnCertificate own_certificate(const std::string& folder, const std::vector<std::string>& names,
                               std::chrono::sys_seconds now) {
    std::error_code failed;
    fs::create_directories(folder, failed);
    fs::permissions(folder, fs::perms::owner_all, failed);
    if (failed || names.empty())
        cannot(folder + ": cannot be made; the workbench keeps its certificates there");
    const auto in = [&](const char* name) { return (fs::path(folder) / name).string(); };
    OwnCertificate out{in("root.pem"), in("server.pem"), in("server.key"), "", {}, false, false};
    const Pair root = root_in(out.root_file, in("root.key"), names.front(), now, out.root_made);
    out.fingerprint = fingerprint_of(root.certificate.get());
    Pair own = read_pair(out.chain_file, out.key_file);
    if (!still_good(own, root, names, now)) {
        own = made_for(names, root, now);
        // The key first: a start between the two finds a pair that does not belong together, and makes
        // another.
        write_key(out.key_file, own.key.get());
        write_certificates(out.chain_file, {own.certificate.get(), root.certificate.get()});
        out.made = true;
    }
    out.ends = end_of(own.certificate.get());
    return out;
}

}  // namespace seatwright::server
