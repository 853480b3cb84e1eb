# Fonts of the printed page, made with HarfBuzz's own tool from Debian's fonts-noto-core.
#
#   drawoff_latin    embedded in the engine (src/paper/latin_font.h): Latin in two weights, and the
#                    few signs of mathematics that Noto Sans itself does not hold
#   drawoff_fonts    ${CMAKE_BINARY_DIR}/fonts/<ISO 15924>-{Regular,Bold}.ttf: a pair of files for each
#                    further script, served by the app and embedded in the command
find_program(HB_SUBSET hb-subset REQUIRED)
set(noto /usr/share/fonts/truetype/noto)
set(fonts ${CMAKE_BINARY_DIR}/fonts)

# drawoff_font(OUTPUT SOURCE UNICODES FEATURES): without hints, which print does not need, and with
# the outline of the empty box.
function(drawoff_font output source unicodes features)
  add_custom_command(
    OUTPUT ${output}
    COMMAND ${CMAKE_COMMAND} -E make_directory ${fonts}
    COMMAND ${HB_SUBSET} --font-file=${noto}/${source}.ttf --output-file=${output}
            --unicodes=${unicodes} --no-hinting --notdef-outline --layout-features=${features}
    DEPENDS ${noto}/${source}.ttf
    VERBATIM)
endfunction()

# Latin with its marks, Vietnamese and the letters of our pseudo-language, punctuation, super- and subscripts, currencies, fractions,
# signs of measurement.
string(CONCAT latin
  "20-7E,A0-181,18F,191-192,1A0-1A1,1AF-1B0,1CD-1DC,1EA,218-21B,259,271,2A0,2BB-2BC,2C6-2C7,2D8-2DD,"
  "300-304,306-30C,323,326-328,331,394,3A9,3BC,3C0,3C6,1E40,1E7C-1E7D,1E80-1E85,1E8A-1E8B,1E9E,1EA0-1EF9,2000-2027,202F-2030,"
  "2032-2033,2039-203A,2044,2060,2070-209C,20A0-20BF,2103,2109,2116,2122,2126,2150-215E,25CC,FEFF,FFFD")
# Arrows, minus, square root, infinity, about, unequal, at most, at least, sum, difference.
set(signs "2190-2193,2206,2211,2212,221A,221E,2248,2260,2264-2265")
set(embedded ${CMAKE_BINARY_DIR}/embedded_fonts)
file(MAKE_DIRECTORY ${embedded})
set(plain ccmp,kern,liga,locl,mark,mkmk)
drawoff_font(${embedded}/latin_regular.ttf NotoSans-Regular ${latin} ${plain})
drawoff_font(${embedded}/latin_bold.ttf NotoSans-Bold ${latin} ${plain})
drawoff_font(${embedded}/signs.ttf NotoSansMath-Regular ${signs} ${plain})
set(latin_files ${embedded}/latin_regular.ttf ${embedded}/latin_bold.ttf ${embedded}/signs.ttf)
add_custom_command(
  OUTPUT ${embedded}/latin_font.cc
  COMMAND ${CMAKE_COMMAND} -DOUTPUT=${embedded}/latin_font.cc "-DFILES=${latin_files}"
          -P ${CMAKE_SOURCE_DIR}/cmake/embed_bytes.cmake
  DEPENDS ${latin_files} ${CMAKE_SOURCE_DIR}/cmake/embed_bytes.cmake
  VERBATIM)
add_library(drawoff_latin STATIC ${embedded}/latin_font.cc)
drawoff_engine(drawoff_latin)
target_compile_options(drawoff_latin PRIVATE -Wno-overlength-strings)

# Scripts whose words a technician's customer may read. No Chinese, Japanese or Korean: those are
# not in fonts-noto-core, and too large to be handed in whole.
set(script_fonts
  Arab:NotoSansArabic Armn:NotoSansArmenian Beng:NotoSansBengali Deva:NotoSansDevanagari
  Ethi:NotoSansEthiopic Geor:NotoSansGeorgian Gujr:NotoSansGujarati Guru:NotoSansGurmukhi
  Hebr:NotoSansHebrew Khmr:NotoSansKhmer Knda:NotoSansKannada Laoo:NotoSansLao
  Mlym:NotoSansMalayalam Mymr:NotoSansMyanmar Orya:NotoSansOriya Sinh:NotoSansSinhala
  Taml:NotoSansTamil Telu:NotoSansTelugu Thaa:NotoSansThaana Thai:NotoSansThai)
set(script_files "")
set(scripts "")
foreach(pair IN LISTS script_fonts)
  string(REPLACE ":" ";" pair ${pair})
  list(GET pair 0 script)
  list(GET pair 1 source)
  foreach(weight Regular Bold)
    drawoff_font(${fonts}/${script}-${weight}.ttf ${source}-${weight} * *)
    list(APPEND script_files ${fonts}/${script}-${weight}.ttf)
  endforeach()
  list(APPEND scripts ${script})
endforeach()
# Greek and Cyrillic stand in Noto Sans itself.
set(Grek 370-3FF,1F00-1FFF,300-304,306-308,313-314,342,345)
set(Cyrl 400-52F,1C80-1C88,2DE0-2DFF,A640-A69F,300-304,306-308,30B,30F,311)
foreach(script Grek Cyrl)
  foreach(weight Regular Bold)
    drawoff_font(${fonts}/${script}-${weight}.ttf NotoSans-${weight} ${${script}} *)
    list(APPEND script_files ${fonts}/${script}-${weight}.ttf)
  endforeach()
  list(APPEND scripts ${script})
endforeach()
list(SORT scripts)
add_custom_target(drawoff_fonts ALL DEPENDS ${script_files})

# drawoff_script_fonts: all of them in one library, for programs that have no folder beside them
# (src/paper/script_fonts.h). The assembler places the files, so that no compiler reads megabytes.
if(NOT EMSCRIPTEN)
  set(content "#include \"paper/script_fonts.h\"\n\n")
  set(rows "")
  foreach(script IN LISTS scripts)
    foreach(weight Regular Bold)
      string(APPEND content
        "__asm__(\".section .rodata\\nfont_${script}_${weight}: .incbin \\\"${fonts}/${script}-${weight}.ttf\\\"\\n\"\n"
        "        \"font_${script}_${weight}_end: .byte 0\\n.previous\");\n"
        "extern \"C\" const char font_${script}_${weight}[], font_${script}_${weight}_end[];\n")
    endforeach()
    string(APPEND rows
      "          {\"${script}\", bytes(font_${script}_Regular, font_${script}_Regular_end),\n"
      "           bytes(font_${script}_Bold, font_${script}_Bold_end)},\n")
  endforeach()
  string(APPEND content
    "\nnamespace drawoff::paper {\nnamespace {\n\n"
    "std::string_view bytes(const char* begin, const char* end) {\n"
    "  return {begin, static_cast<std::size_t>(end - begin)};\n}\n\n}  // namespace\n\n"
    "std::vector<ScriptFont> script_fonts() {\n  return {\n${rows}  };\n}\n\n"
    "}  // namespace drawoff::paper\n")
  file(GENERATE OUTPUT ${embedded}/script_fonts.cc CONTENT "${content}")
  set_source_files_properties(
    ${embedded}/script_fonts.cc PROPERTIES OBJECT_DEPENDS "${script_files}")
  add_library(drawoff_script_fonts STATIC EXCLUDE_FROM_ALL ${embedded}/script_fonts.cc)
  drawoff_engine(drawoff_script_fonts)
endif()
