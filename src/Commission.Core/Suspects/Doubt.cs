namespace Commission.Core.Suspects;

/// <summary>A reading, or a series, that looks like a mistake. Offered, never applied.</summary>
/// <param name="Row">Row number, counted from 1; 0 for the whole series.</param>
/// <param name="Reason">What it looks like, a sentence.</param>
/// <param name="Suggestion">What it may have meant, or what to look at, a sentence.</param>
public sealed record Doubt(int Row, string Reason, string Suggestion);
