// The data's files are their owner's alone: names, readings and digests of passwords are for nobody else who
// has an account on the machine, whatever the umask the program was started under.
#pragma once

#include <string>

namespace seatwright::store {

// Makes the file, empty, if it is not there, and takes every right of others from it and from what the
// database keeps beside it (which is made with the rights of the file itself). What cannot be changed is
// left: opening the file says so better.
void keep_to_owner(const std::string& file);

// A file left beside a database that is no longer there and that belongs to that one: its log, its list of
// last digests; empty if there is none.
std::string left_beside(const std::string& file);

}  // namespace seatwright::store
