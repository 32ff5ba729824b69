/** Written by .config/record-binaries.ts from the archives of package-lock.json; not by hand. */

/** SHA-256 of the binaries that are run out of packages, by "package@version/file"; the packaged browser as it is unpacked. */
export const RECORDED_BINARIES: Readonly<Record<string, string>> = {
  '@ffmpeg-installer/darwin-arm64@4.1.5/ffmpeg':
    'a2ad6f0fc42a3c8f5183ef1d53e906d6bb35478d14a6b67175c30ce6c17e9214',
  '@ffmpeg-installer/linux-x64@4.1.0/ffmpeg':
    '6d0c625dbd3f604ed2618981ba6fee7e29678855ab741d654cfc9effb0226624',
  '@ffmpeg-installer/win32-x64@4.1.0/ffmpeg.exe':
    'c8abc49e7be62dde8e12972af373959e0076a7b8dc8040eb45978e0608f8781e',
  '@ffprobe-installer/darwin-arm64@5.0.1/ffprobe':
    'c846d5db9d3b5bc33f987725e21f3ea14953931221c191575918e907ad6c18ff',
  '@ffprobe-installer/linux-x64@5.2.0/ffprobe':
    '576c21674291ec1948d507ea8ab0d78eb6621a0be8c6f1a6db0f50c5fcb1e0f9',
  '@ffprobe-installer/win32-x64@5.1.0/ffprobe.exe':
    'f28c4751e7367205267025aaf0fcfc921e34d9b7edaa46bd9c8abaf367fc9051',
  '@img/sharp-darwin-arm64@0.35.5/lib/sharp-darwin-arm64-0.35.5.node':
    '791921f975371be33aed727e06283282cc001c960792eb52505b579fdaaf1b55',
  '@img/sharp-libvips-darwin-arm64@1.3.4/lib/libvips-cpp.8.18.7.dylib':
    'c1a5b5633b21aeb8a229abf7d062e07e4d778c0b44ed43cd1f93362bda58c322',
  '@img/sharp-libvips-linux-x64@1.3.4/lib/libvips-cpp.so.8.18.7':
    '4aa73553408c3964071728f4a231a8e86918e39bc49f1fbae75355f7ea933ea9',
  '@img/sharp-linux-x64@0.35.5/lib/sharp-linux-x64-0.35.5.node':
    'cf896cc1b7f3ae9c3e8eb3d7b2b198b8de2824ff7d0681d684bab5a825def335',
  '@img/sharp-win32-x64@0.35.5/lib/libvips-42.dll':
    '06dab07cc386748513337a31672b1d5269fbc770a14ff403080575665bf0813f',
  '@img/sharp-win32-x64@0.35.5/lib/libvips-cpp-8.18.7.dll':
    '25001dbd05305a0a29119ab49933622c70b4a20ea12ef1d5d20ca40181db53bf',
  '@img/sharp-win32-x64@0.35.5/lib/sharp-win32-x64-0.35.5.node':
    '971048779f9c8598df14641dfc03c625885c93f473a788e65ca2deb50d0b083e',
  '@libsql/darwin-arm64@0.5.29/index.node':
    '3fd9e58190311b5ee027c3e5452a6a410b31a5d610fd55853d797bb3c9f5db0c',
  '@libsql/linux-x64-gnu@0.5.29/index.node':
    'f6c322c857c99e43e13c31e7289044d4e0d64528bae4e23ae03f6524afe02d5e',
  '@libsql/linux-x64-musl@0.5.29/index.node':
    'bed7fdfd3f4139dab101ebafdec8a74ec62799fd65714f1a98918c905597e63d',
  '@libsql/win32-x64-msvc@0.5.29/index.node':
    '5d1de6b0e9b3f2b71d79f4c0f833cd345f7dbb0aa921a89a8ebf0a07571ddc9d',
  '@sparticuz/chromium@147.0.0/chromium': 'bf7d8699042e0e1768ee136c19cf666371f74a39c8b6cfb246d15b3aa18c30ce',
  '@techstark/opencv-js@4.12.0-release.1/dist/opencv.js':
    'bd0c3e6448043de04f6a64a12cb7b759f78c3ab8f7c35c9f2e0f71c88bb17103',
};
