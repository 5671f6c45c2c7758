package org.layroom.dashboard.backup;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import org.layroom.device.files.FolderTree;

/** A folder to work in, emptied before and deleted after, whatever happened the last time. */
record WorkFolder(Path path) implements AutoCloseable {

  static WorkFolder in(Path parent, String name) throws IOException {
    WorkFolder folder = new WorkFolder(parent.resolve(name));
    folder.close();
    Files.createDirectories(folder.path());
    return folder;
  }

  @Override
  public void close() throws IOException {
    FolderTree.delete(path);
  }
}
