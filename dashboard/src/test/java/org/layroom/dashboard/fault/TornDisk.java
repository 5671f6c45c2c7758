package org.layroom.dashboard.fault;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.util.Arrays;
import java.util.Comparator;
import java.util.Map;
import java.util.Random;
import java.util.TreeMap;
import java.util.stream.Stream;

/**
 * What a power cut may leave of a folder between two moments at which everything was synced. Each
 * sector of 512 bytes that was written between them is on the disk or is not, in any order; where a
 * file has grown it may end anywhere, and a sector that was never written is old, or zeros.
 */
final class TornDisk {
  private static final int SECTOR = 512;

  private TornDisk() {}

  /** All files of a folder whose names do not end in one of these. */
  static Map<String, byte[]> read(Path folder, String... without) throws IOException {
    Map<String, byte[]> files = new TreeMap<>();
    try (Stream<Path> list = Files.list(folder)) {
      for (Path file : list.filter(Files::isRegularFile).toList()) {
        String name = file.getFileName().toString();
        if (Arrays.stream(without).noneMatch(name::endsWith)) {
          files.put(name, Files.readAllBytes(file));
        }
      }
    }
    return files;
  }

  static void write(Path folder, Map<String, byte[]> files) throws IOException {
    Files.createDirectories(folder);
    for (Map.Entry<String, byte[]> file : files.entrySet()) {
      Files.write(folder.resolve(file.getKey()), file.getValue());
    }
  }

  /** A file of which any of the sectors written between two moments has reached the disk. */
  static byte[] torn(byte[] before, byte[] after, Random random) {
    int shorter = Math.min(before.length, after.length);
    int length =
        random.nextBoolean()
            ? after.length
            : shorter + random.nextInt(Math.max(before.length, after.length) - shorter + 1);
    byte[] torn = Arrays.copyOf(before, length);
    double kept = Math.max(0, Math.min(1, 1.5 * random.nextDouble() - 0.25));
    for (int at = 0; at < Math.min(length, after.length); at += SECTOR) {
      if (random.nextDouble() < kept) {
        int end = Math.min(Math.min(length, after.length), at + SECTOR);
        System.arraycopy(after, at, torn, at, end - at);
      }
    }
    return torn;
  }

  /** Deletes a folder with all that is in it. */
  static void delete(Path folder) throws IOException {
    try (Stream<Path> files = Files.walk(folder)) {
      for (Path file : files.sorted(Comparator.reverseOrder()).toList()) {
        Files.delete(file);
      }
    }
  }
}
