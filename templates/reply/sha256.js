// SHA-256 (FIPS 180-4), for pages that are given no WebCrypto. Knows bytes, and not what they mean.

const SHA_ROUNDS = [
  0x428a2f98, 0x71374491, 0xb5c0fbcf, 0xe9b5dba5, 0x3956c25b, 0x59f111f1,
  0x923f82a4, 0xab1c5ed5, 0xd807aa98, 0x12835b01, 0x243185be, 0x550c7dc3,
  0x72be5d74, 0x80deb1fe, 0x9bdc06a7, 0xc19bf174, 0xe49b69c1, 0xefbe4786,
  0x0fc19dc6, 0x240ca1cc, 0x2de92c6f, 0x4a7484aa, 0x5cb0a9dc, 0x76f988da,
  0x983e5152, 0xa831c66d, 0xb00327c8, 0xbf597fc7, 0xc6e00bf3, 0xd5a79147,
  0x06ca6351, 0x14292967, 0x27b70a85, 0x2e1b2138, 0x4d2c6dfc, 0x53380d13,
  0x650a7354, 0x766a0abb, 0x81c2c92e, 0x92722c85, 0xa2bfe8a1, 0xa81a664b,
  0xc24b8b70, 0xc76c51a3, 0xd192e819, 0xd6990624, 0xf40e3585, 0x106aa070,
  0x19a4c116, 0x1e376c08, 0x2748774c, 0x34b0bcb5, 0x391c0cb3, 0x4ed8aa4a,
  0x5b9cca4f, 0x682e6ff3, 0x748f82ee, 0x78a5636f, 0x84c87814, 0x8cc70208,
  0x90befffa, 0xa4506ceb, 0xbef9a3f7, 0xc67178f2,
];
const SHA_START = [
  0x6a09e667, 0xbb67ae85, 0x3c6ef372, 0xa54ff53a, 0x510e527f, 0x9b05688c,
  0x1f83d9ab, 0x5be0cd19,
];

/** The hash of a text's UTF-8 bytes, in hexadecimal digits. */
function sha256(text) {
  const bytes = new TextEncoder().encode(text);
  // A one bit, zeros, and the length in bits in the last 8 bytes of the last block of 64.
  const blocks = new Uint8Array(((bytes.length + 72) >> 6) << 6);
  blocks.set(bytes);
  blocks[bytes.length] = 0x80;
  const view = new DataView(blocks.buffer);
  view.setUint32(blocks.length - 8, Math.floor(bytes.length / 0x20000000));
  view.setUint32(blocks.length - 4, (bytes.length << 3) >>> 0);
  const state = Uint32Array.from(SHA_START);
  const w = new Uint32Array(64);
  for (let at = 0; at < blocks.length; at += 64) {
    for (let t = 0; t < 16; t++) w[t] = view.getUint32(at + 4 * t);
    shaBlock(state, w);
  }
  return Array.from(state, (word) => word.toString(16).padStart(8, "0")).join("");
}

/** One block, its first 16 words in `w`. The names are the standard's. */
function shaBlock(state, w) {
  const rotr = (x, n) => (x >>> n) | (x << (32 - n));
  for (let t = 16; t < 64; t++) {
    const s0 = rotr(w[t - 15], 7) ^ rotr(w[t - 15], 18) ^ (w[t - 15] >>> 3);
    const s1 = rotr(w[t - 2], 17) ^ rotr(w[t - 2], 19) ^ (w[t - 2] >>> 10);
    w[t] = s1 + w[t - 7] + s0 + w[t - 16];
  }
  let [a, b, c, d, e, f, g, h] = state;
  for (let t = 0; t < 64; t++) {
    const s1 = rotr(e, 6) ^ rotr(e, 11) ^ rotr(e, 25);
    const t1 = h + s1 + ((e & f) ^ (~e & g)) + SHA_ROUNDS[t] + w[t];
    const s0 = rotr(a, 2) ^ rotr(a, 13) ^ rotr(a, 22);
    const t2 = s0 + ((a & b) ^ (a & c) ^ (b & c));
    [h, g, f, e, d, c, b, a] = [g, f, e, (d + t1) | 0, c, b, a, (t1 + t2) | 0];
  }
  [a, b, c, d, e, f, g, h].forEach((word, n) => (state[n] += word));
}
