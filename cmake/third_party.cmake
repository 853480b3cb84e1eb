# What the printed page is built from: HarfBuzz (shaping, font subsets), FriBidi (UAX 9), libunistring
# (UAX 14) and a QR code generator, from Debian's source packages (script/sources.txt), compiled the
# same way natively and for WebAssembly so that both print the same bytes.
set(third_party ${CMAKE_SOURCE_DIR}/build/third_party)
if(NOT EXISTS ${third_party}/.fetched-from)
  message(FATAL_ERROR "The third-party sources are missing: script/run and script/test fetch them.")
endif()

# drawoff_third_party(name FOLDER FILES...): a library whose warnings are not ours.
function(drawoff_third_party name folder)
  list(TRANSFORM ARGN PREPEND ${folder}/ OUTPUT_VARIABLE files)
  add_library(${name} STATIC ${files})
  target_include_directories(${name} SYSTEM INTERFACE ${folder})
  target_include_directories(${name} PRIVATE ${folder})
  target_compile_options(
    ${name} PRIVATE -w -fno-exceptions -ffp-contract=off $<$<CONFIG:Debug>:-O1>
                    $<$<BOOL:${DRAWOFF_SANITIZE}>:-fsanitize=address>)
endfunction()

# One file holds shaper and subsetter. Only TrueType outlines are read and written, no variable fonts.
drawoff_third_party(harfbuzz ${third_party}/harfbuzz/src harfbuzz-subset.cc)
target_compile_options(harfbuzz PRIVATE -fno-rtti)
if(EMSCRIPTEN)
  target_compile_options(harfbuzz PRIVATE -Oz) # as the rooms that compute little (room.cmake)
  # Its functions carry their names for traces that are not compiled: 150 kB of text.
  target_compile_definitions(harfbuzz PRIVATE "__PRETTY_FUNCTION__=\"\"")
endif()
target_compile_definitions(harfbuzz PRIVATE HB_LEAN HB_NO_AAT HB_NO_LEGACY)

drawoff_third_party(
  fribidi ${third_party}/fribidi/lib fribidi.c fribidi-bidi.c fribidi-bidi-types.c
  fribidi-brackets.c fribidi-mirroring.c fribidi-joining.c fribidi-joining-types.c
  fribidi-arabic.c fribidi-shape.c fribidi-run.c)
target_compile_definitions(
  fribidi PUBLIC DONT_HAVE_FRIBIDI_CONFIG_H PRIVATE STDC_HEADERS HAVE_STRINGIZE)

# libunistring's line breaking alone, without its configure script: the headers that it would
# generate reduce to these.
set(unistring ${third_party}/libunistring/lib)
set(unistring_headers ${CMAKE_BINARY_DIR}/unistring)
file(WRITE ${unistring_headers}/config.h "")
file(WRITE ${unistring_headers}/unistring/stdint.h "#include <stdint.h>\n")
file(WRITE ${unistring_headers}/unistring/localcharset.h "")
configure_file(${unistring}/unitypes.in.h ${unistring_headers}/unitypes.h COPYONLY)
configure_file(${unistring}/unilbrk.in.h ${unistring_headers}/unilbrk.h COPYONLY)
drawoff_third_party(
  unistring ${unistring} unilbrk/lbrktables.c unilbrk/u32-possible-linebreaks.c)
target_include_directories(unistring BEFORE PRIVATE ${unistring_headers})
target_include_directories(unistring SYSTEM BEFORE INTERFACE ${unistring_headers})

drawoff_third_party(qrcodegen ${third_party}/qr-code-generator/c qrcodegen.c)
