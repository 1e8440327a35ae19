using System.Text;
using Commission.Adapters.Storage;
using Commission.Core;
using Commission.Workshop.Ports;

namespace Commission.Adapters.Files;

/// <summary>Text files on this computer.</summary>
public sealed class TextFiles : ITextFiles
{
    private const long Longest = 64L << 20;

    /// <inheritdoc/>
    public Outcome<string> Read(string path)
    {
        try
        {
            var file = new FileInfo(path);
            if (file.Exists && file.Length > Longest)
                return At(path, "the file is longer than 64 MB", "Split it, or name another");
            return File.ReadAllText(path, Encoding.UTF8);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            return At(path, "the file cannot be read: " + Reason(e), "Check the name and the rights of the file");
        }
    }

    /// <inheritdoc/>
    public bool IsThere(string path) => File.Exists(path);

    /// <inheritdoc/>
    public Outcome<string> Write(string path, string text)
    {
        try
        {
            Disk.Replace(Path.GetFullPath(path), part => part.Write(Encoding.UTF8.GetBytes(text)));
            return path;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException or NotSupportedException)
        {
            return At(path, "the file cannot be written: " + Reason(e), "Name a folder that exists and may be written to");
        }
    }

    private static Problem At(string path, string what, string remedy) => new(what, remedy) { File = path };

    private static string Reason(Exception e) => e switch
    {
        FileNotFoundException or DirectoryNotFoundException => "there is none of that name",
        UnauthorizedAccessException => "this user may not",
        ArgumentException or NotSupportedException => "the name is not one of a file",
        _ => "the system refused",
    };
}
