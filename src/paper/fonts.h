// The fonts that a paper is printed with.
//
// Latin, with the signs of measurement, is part of the engine. Every other script is a pair of font
// files that the caller hands in, because the phone loads only those that it needs:
//
//   TRY(const Fonts fonts, Fonts::create({{.script = "Deva", .regular = bytes, .bold = bytes}}));
//
// The bytes are not copied: they must stay for as long as the Fonts.
#pragma once

#include <memory>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace drawoff::paper {

// TrueType files of one script.
struct ScriptFont {
  std::string script;  // four letters of ISO 15924: "Deva", "Arab"
  std::string_view regular;
  std::string_view bold;
};

// Type as it is set: how large, and how heavy.
struct Type {
  double size = 3.35;  // of the em square [mm]; 9.5 points unless said
  bool bold = false;
  bool operator==(const Type&) const = default;
};

class Face;  // one font file, ready to shape with (face.h)

class Fonts {
 public:
  // Latin alone.
  Fonts();
  // Latin and further scripts; an error if a file is no TrueType font that can be read, or a script
  // is not named by four letters.
  static base::Result<Fonts> create(const std::vector<ScriptFont>& scripts);

  // Every face of one weight; Latin comes first.
  const std::vector<std::shared_ptr<const Face>>& faces(bool bold) const {
    return bold ? bold_ : regular_;
  }

 private:
  std::vector<std::shared_ptr<const Face>> regular_;
  std::vector<std::shared_ptr<const Face>> bold_;
};

// How far a text reaches on one line [mm]; line ends in it count as spaces.
double width_of(const Fonts& fonts, std::string_view text, const Type& type);

// The text broken to lines no wider than `width` [mm], as [unicode2021] allows and at line ends; a
// word that alone is wider is broken within. Spaces at the end of a line are left out.
std::vector<std::string> wrapped(const Fonts& fonts,
                                 std::string_view text,
                                 const Type& type,
                                 double width);

}  // namespace drawoff::paper
