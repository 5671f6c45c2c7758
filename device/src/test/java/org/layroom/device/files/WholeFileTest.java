package org.layroom.device.files;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;
import static org.junit.jupiter.api.Assertions.assertThrows;
import static org.junit.jupiter.api.Assertions.assertTrue;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.nio.file.attribute.PosixFilePermissions;
import java.util.List;
import java.util.stream.Stream;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** How a small file is replaced as a whole. */
class WholeFileTest {
  @TempDir Path folder;

  private Path file() {
    return folder.resolve("settings.json");
  }

  private static byte[] bytes(String text) {
    return text.getBytes(UTF_8);
  }

  private List<String> names() throws IOException {
    try (Stream<Path> list = Files.list(folder)) {
      return list.map(path -> path.getFileName().toString()).sorted().toList();
    }
  }

  @Test
  void theNewContentStandsAloneInTheFolder() throws IOException {
    WholeFile.replace(file(), bytes("one, and longer"));
    WholeFile.replace(file(), bytes("two"));
    assertEquals("two", Files.readString(file()));
    assertEquals(List.of("settings.json"), names());
  }

  @Test
  void whatAKilledProgramLeftIsReplacedToo() throws IOException {
    Files.writeString(folder.resolve("settings.json.new"), "half of som");
    WholeFile.replacePrivate(file(), bytes("whole"));
    assertEquals("whole", Files.readString(file()));
    assertEquals(List.of("settings.json"), names());
  }

  @Test
  void aPrivateFileIsItsOwnersAloneWhateverWasThereBefore() throws IOException {
    Files.writeString(file(), "open to all");
    Files.setPosixFilePermissions(file(), PosixFilePermissions.fromString("rw-rw-rw-"));
    WholeFile.replacePrivate(file(), bytes("secret"), Files.getOwner(folder));
    assertEquals("rw-------", PosixFilePermissions.toString(Files.getPosixFilePermissions(file())));
    assertEquals(Files.getOwner(folder), Files.getOwner(file()));
  }

  /** Whoever may write in the folder can put a link where the fresh file is going to be. */
  @Test
  void aLinkInTheFolderIsNeverWrittenThrough() throws IOException {
    Path elsewhere = Files.writeString(folder.resolve("elsewhere"), "not ours");
    Files.createSymbolicLink(folder.resolve("settings.json.new"), elsewhere);
    Files.createSymbolicLink(file(), elsewhere);
    WholeFile.replace(file(), bytes("ours"));
    assertEquals("ours", Files.readString(file()));
    assertFalse(Files.isSymbolicLink(file()));
    assertEquals("not ours", Files.readString(elsewhere));
  }

  @Test
  void whenItCannotTakeItsPlaceTheOldOneStandsAndNothingIsLeftBesideIt() throws IOException {
    Files.createDirectories(file().resolve("in the way"));
    assertThrows(IOException.class, () -> WholeFile.replace(file(), bytes("new")));
    assertTrue(Files.isDirectory(file().resolve("in the way")));
    assertEquals(List.of("settings.json"), names());
  }

  @Test
  void aFileOfTheWorkingFolderNeedsNoFolderInItsName() throws IOException {
    Path bare = Path.of("whole-file-test-" + ProcessHandle.current().pid());
    try {
      WholeFile.replace(bare, bytes("here"));
      assertEquals("here", Files.readString(bare));
    } finally {
      Files.deleteIfExists(bare);
    }
  }
}
