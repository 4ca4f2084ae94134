"""What chemicals do: values in, values out; nothing here touches the outside."""
