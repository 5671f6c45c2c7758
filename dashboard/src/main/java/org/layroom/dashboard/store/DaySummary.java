package org.layroom.dashboard.store;

import java.time.LocalDate;

/** The good raw values of one series on one calendar day. */
public record DaySummary(LocalDate day, long n, double min, double mean, double max) {}
