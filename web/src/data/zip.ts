// What is used of the library for zip files, and no more: it is fetched when a zip is made or read.
export { strFromU8, strToU8, Unzip, UnzipInflate, unzipSync, zipSync } from 'fflate';
