package org.layroom.dashboard.access;

import java.io.IOException;
import java.nio.charset.StandardCharsets;
import java.nio.file.Files;
import java.nio.file.Path;
import java.security.SecureRandom;
import java.util.ArrayList;
import java.util.HexFormat;
import java.util.List;
import java.util.Set;
import java.util.TreeSet;
import java.util.concurrent.TimeUnit;
import java.util.regex.Pattern;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.layroom.dashboard.access.device.OwnerOnlyFiles;

/**
 * Makes a certificate for this house alone, with the keytool that comes with every Java: an
 * authority that signs one certificate and whose key is then thrown away, so that nobody can sign
 * another in its name. Tablets are told to trust the authority once.
 *
 * @param store PKCS#12: the house's key with its chain
 * @param passwordFile the store's password
 * @param authority PEM, to be installed on tablets
 */
public record LocalAuthority(Path store, Path passwordFile, Path authority, List<String> names) {
  /** As long as makers of phones let a private one last. */
  public static final int DAYS = 825;

  private static final int PATIENCE_SECONDS = 120;
  private static final Pattern ADDRESS = Pattern.compile("[0-9.]+");

  /**
   * Makes one for these names and addresses, and for localhost.
   *
   * @param folder where its three files go; what is there of an earlier one is replaced
   * @throws IOException when keytool is missing or cannot do it
   */
  public static LocalAuthority make(Path folder, List<String> names) throws IOException {
    Set<String> all = new TreeSet<>(names);
    all.add("localhost");
    all.add("127.0.0.1");
    OwnerOnlyFiles.folder(folder);
    LocalAuthority made =
        new LocalAuthority(
            folder.resolve("https.p12"),
            folder.resolve("https-password"),
            folder.resolve("layroom-authority.crt"),
            List.copyOf(all));
    Path work = Files.createTempDirectory(folder, "making");
    try {
      made.write(work);
    } finally {
      discard(work);
    }
    return made;
  }

  private void write(Path work) throws IOException {
    byte[] random = new byte[20];
    new SecureRandom().nextBytes(random);
    Path password = work.resolve("password");
    OwnerOnlyFiles.write(password, HexFormat.of().formatHex(random) + "\n");
    Path authority = work.resolve("authority.p12");
    Path house = work.resolve("house.p12");
    String days = Integer.toString(DAYS);
    keytool(
        password,
        authority,
        "-genkeypair",
        "-alias",
        "authority",
        "-keyalg",
        "EC",
        "-groupname",
        "secp256r1",
        "-dname",
        "CN=Layroom of this shop",
        "-validity",
        days,
        "-ext",
        "bc:c=ca:true,pathlen:0",
        "-ext",
        "ku:c=keyCertSign");
    keytool(
        password,
        house,
        "-genkeypair",
        "-alias",
        "house",
        "-keyalg",
        "EC",
        "-groupname",
        "secp256r1",
        "-dname",
        "CN=" + called(),
        "-validity",
        days);
    Path request = work.resolve("request");
    Path signed = work.resolve("signed");
    Path pem = work.resolve("authority.crt");
    keytool(
        password, authority, "-exportcert", "-rfc", "-alias", "authority", "-file", pem.toString());
    keytool(password, house, "-certreq", "-alias", "house", "-file", request.toString());
    keytool(
        password,
        authority,
        "-gencert",
        "-rfc",
        "-alias",
        "authority",
        "-validity",
        days,
        "-infile",
        request.toString(),
        "-outfile",
        signed.toString(),
        "-ext",
        "san=" + alternatives(),
        "-ext",
        "ku:c=digitalSignature",
        "-ext",
        "eku=serverAuth",
        "-ext",
        "bc:c=ca:false");
    keytool(
        password,
        house,
        "-importcert",
        "-noprompt",
        "-alias",
        "authority",
        "-file",
        pem.toString());
    keytool(password, house, "-importcert", "-alias", "house", "-file", signed.toString());
    OwnerOnlyFiles.write(passwordFile, Files.readString(password));
    OwnerOnlyFiles.write(store, Files.readAllBytes(house));
    OwnerOnlyFiles.write(this.authority, Files.readAllBytes(pem));
  }

  private String called() {
    return names.stream()
        .filter(name -> !ADDRESS.matcher(name).matches() && !name.equals("localhost"))
        .findFirst()
        .orElse("layroom");
  }

  private String alternatives() {
    return names.stream()
        .map(name -> (ADDRESS.matcher(name).matches() ? "ip:" : "dns:") + name)
        .collect(Collectors.joining(","));
  }

  /** The password goes by a file: command lines can be seen by everybody on the machine. */
  private static void keytool(Path password, Path store, String... what) throws IOException {
    List<String> command = new ArrayList<>();
    command.add(Path.of(System.getProperty("java.home"), "bin", "keytool").toString());
    command.addAll(List.of(what));
    command.addAll(
        List.of(
            "-storetype",
            "PKCS12",
            "-keystore",
            store.toString(),
            "-storepass:file",
            password.toString()));
    Process process = new ProcessBuilder(command).redirectErrorStream(true).start();
    process.getOutputStream().close();
    String said = new String(process.getInputStream().readAllBytes(), StandardCharsets.UTF_8);
    try {
      if (!process.waitFor(PATIENCE_SECONDS, TimeUnit.SECONDS) || process.exitValue() != 0) {
        throw new IOException("keytool failed at " + what[0] + ": " + said.strip());
      }
    } catch (InterruptedException e) {
      Thread.currentThread().interrupt();
      throw new IOException("interrupted while keytool was running", e);
    }
  }

  private static void discard(Path work) throws IOException {
    try (Stream<Path> files = Files.list(work)) {
      for (Path file : files.toList()) {
        Files.delete(file);
      }
    }
    Files.delete(work);
  }
}
