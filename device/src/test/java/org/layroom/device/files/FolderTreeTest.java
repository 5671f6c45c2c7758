package org.layroom.device.files;

import static org.junit.jupiter.api.Assertions.assertEquals;
import static org.junit.jupiter.api.Assertions.assertFalse;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.io.TempDir;

/** How a folder is deleted, and how a name is found that no file has yet. */
class FolderTreeTest {
  @TempDir Path folder;

  @Test
  void aFolderGoesWithAllThatIsInItAndNoFolderIsNoFailure() throws IOException {
    Path tree = folder.resolve("tree");
    Files.createDirectories(tree.resolve("a").resolve("b"));
    Files.writeString(tree.resolve("a").resolve("b").resolve("file"), "text");
    FolderTree.delete(tree);
    assertFalse(Files.exists(tree));
    FolderTree.delete(tree);
  }

  @Test
  void aLinkGoesAndWhatItPointsToStays() throws IOException {
    Path other = Files.createDirectory(folder.resolve("other"));
    Files.writeString(other.resolve("file"), "kept");
    Path tree = Files.createDirectory(folder.resolve("tree"));
    Files.createSymbolicLink(tree.resolve("link"), other);
    FolderTree.delete(tree);
    assertFalse(Files.exists(tree));
    assertEquals("kept", Files.readString(other.resolve("file")));
  }

  @Test
  void aFreeNameIsOneThatNoFileHasYet() throws IOException {
    assertEquals(folder.resolve("copy.db"), FreeName.in(folder, "copy", ".db"));
    Files.createFile(folder.resolve("copy.db"));
    assertEquals(folder.resolve("copy-2.db"), FreeName.in(folder, "copy", ".db"));
    Files.createDirectory(folder.resolve("copy-2.db"));
    assertEquals(folder.resolve("copy-3.db"), FreeName.in(folder, "copy", ".db"));
  }
}
