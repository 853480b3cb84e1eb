// The files of the app in memory, each ready to be sent.
//
// An app is small: it is read once (folder.h), and from then on a request can only ever name a file
// that was there. No request touches the disk, so no spelling of a path leads anywhere else.
//
//   Site site(files, messages::catalogue("en"));
//   if (const Page* page = site.find("assets/app-1f3c.js")) …
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "messages/catalogue.h"

namespace drawoff::server {

// A file as it was found: its path below the folder, names parted by '/', and its bytes.
struct File {
  std::string path;
  std::string content;
};

// A page in one content coding: "" as it is, "br" or "gzip".
struct Representation {
  std::string_view coding;
  std::string content;
  std::string etag;  // strong: made from the content, quotation marks included [rfc9110, 8.8.3]
};

struct Page {
  std::string_view type;   // Content-Type, by the ending of the file's name
  std::string_view cache;  // Cache-Control
  // As it is, then compressed as far as there is a file beside it: app.js, app.js.br, app.js.gz.
  std::vector<Representation> representations;
};

class Site {
 public:
  // A file in assets/ has a hash of its content in its name and so never changes: it may be kept
  // for a year; all others are to be asked for again. `words` are those of the refusals.
  Site(std::vector<File> files, const messages::Catalogue& words);

  // The page of that path, or null.
  const Page* find(std::string_view path) const;
  // A short page that says in plain words why nothing better comes: 400, 404, 405, 421 or 431.
  std::string_view refusal(int status) const;

 private:
  std::map<std::string, Page, std::less<>> pages_;
  std::map<int, std::string> refusals_;
};

}  // namespace drawoff::server
