using Terminal.Gui.App;
using Terminal.Gui.ViewBase;
using Terminal.Gui.Views;

// The least that shows anything with the library: what the first frame of the program is held against.
using var app = Application.Create().Init();
using var window = new Runnable();
window.Add(new Label { Text = "empty screen", Y = Pos.AnchorEnd(1) });
app.Run(window);
