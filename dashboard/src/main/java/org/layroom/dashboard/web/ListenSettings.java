package org.layroom.dashboard.web;

import java.util.Optional;
import javax.net.ssl.SSLContext;
import org.layroom.dashboard.access.HostNames;

/**
 * Where the page is to be had. On this machine always without TLS; elsewhere with TLS as soon as
 * there is a certificate, and never without it then.
 *
 * @param address loopback for this machine only
 * @param port without TLS; 0 takes a free one
 * @param tlsPort with TLS; 0 takes a free one
 */
public record ListenSettings(
    String address, int port, Optional<SSLContext> tls, int tlsPort, HostNames names) {}
