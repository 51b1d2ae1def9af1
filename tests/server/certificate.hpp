// A self-signed certificate for 127.0.0.1, made with OpenSSL for the length of a test.
#pragma once

#include <openssl/evp.h>
#include <openssl/pem.h>
#include <openssl/x509v3.h>

#include <cstdio>
#include <memory>
#include <string>

namespace seatwright::server {

// Writes certificate and key as PEM files; false if OpenSSL cannot.
inline bool make_certificate(const std::string& certificate_file, const std::string& key_file) {
    const std::unique_ptr<EVP_PKEY, void (*)(EVP_PKEY*)> key(EVP_EC_gen("P-256"), EVP_PKEY_free);
    const std::unique_ptr<X509, void (*)(X509*)> made(X509_new(), X509_free);
    if (!key || !made) return false;
    X509_set_version(made.get(), 2);
    ASN1_INTEGER_set(X509_get_serialNumber(made.get()), 1);
    X509_gmtime_adj(X509_getm_notBefore(made.get()), -3600);
    X509_gmtime_adj(X509_getm_notAfter(made.get()), 24L * 3600);
    X509_set_pubkey(made.get(), key.get());
    X509_NAME* name = X509_get_subject_name(made.get());
    const unsigned char words[] = "a shop, for a test";
    X509_NAME_add_entry_by_txt(name, "CN", MBSTRING_ASC, words, -1, -1, 0);
    X509_set_issuer_name(made.get(), name);
    X509_EXTENSION* address = X509V3_EXT_conf_nid(nullptr, nullptr, NID_subject_alt_name, "IP:127.0.0.1");
    if (address == nullptr) return false;
    X509_add_ext(made.get(), address, -1);
    X509_EXTENSION_free(address);
    if (X509_sign(made.get(), key.get(), EVP_sha256()) == 0) return false;
    std::FILE* file = std::fopen(certificate_file.c_str(), "w");
    if (file == nullptr) return false;
    bool good = PEM_write_X509(file, made.get()) == 1;
    good = std::fclose(file) == 0 && good;
    file = std::fopen(key_file.c_str(), "w");
    if (file == nullptr) return false;
    good = PEM_write_PrivateKey(file, key.get(), nullptr, nullptr, 0, nullptr, nullptr) == 1 && good;
    return std::fclose(file) == 0 && good;
}

}  // namespace seatwright::server
