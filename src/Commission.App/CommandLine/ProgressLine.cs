using System.Globalization;

namespace Commission.App.CommandLine;

/// <summary>A bar on one line of standard error while the index grows back; nothing for what is done at once.</summary>
internal sealed class ProgressLine(TextWriter error) : IProgress<double>
{
    private const int Width = 40;

    private bool begun;

    /// <inheritdoc/>
    public void Report(double value)
    {
        if (value >= 1 && !begun)
            return;
        begun = value < 1;
        var full = (int)(Math.Clamp(value, 0, 1) * Width);
        error.Write(string.Create(CultureInfo.InvariantCulture, $"\rthe index grows back [{new string('=', full)}{new string(' ', Width - full)}] {value * 100:0} %"));
        if (!begun)
            error.WriteLine();
    }
}
