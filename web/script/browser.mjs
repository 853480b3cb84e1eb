// Debian's Chromium, for the tests and for what the build draws.
export const launch = {
  executablePath: process.env.CHROMIUM ?? '/usr/bin/chromium',
  args: process.getuid?.() === 0 ? ['--no-sandbox'] : [],
};
